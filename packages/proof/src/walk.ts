import { type Problem, problem } from '@gapwright/base';
import { distanceMm, line, type Point, type Segment, segmentLengthMm } from '@gapwright/geometry';
import type { Motion, Side } from '@gapwright/program';
import { arcBlock, compensate, type PieceRole, type ProgrammedBlock } from './compensate.js';
import type { TimeMark } from './result.js';
import { SAME_POINT_MM } from './tolerances.js';

/** One piece of the wire's real path with the state of the machine while it runs. */
export interface WireMove {
  readonly segment: Segment;
  readonly role: PieceRole | 'plain';
  readonly rapid: boolean;
  readonly motion: number;
  readonly line: number;
  readonly level: number | null;
  readonly threaded: boolean;
  readonly fluid: boolean;
  readonly feedMmPerMin: number;
  readonly run: number;
}

/** Cutting moves in a row under the same compensation and level, with nothing between them. */
export interface Run {
  readonly id: number;
  readonly side: Side | 'off';
  readonly register: number | null;
  readonly offsetMm: number;
  readonly level: number | null;
}

/** A moment without motion that matters to the proof. */
export interface Event {
  readonly kind: 'thread' | 'cut-wire' | 'stop' | 'optional-stop' | 'end';
  readonly motion: number;
  readonly line: number;
  /** Where the wire stands. */
  readonly at: Point;
  readonly threadedBefore: boolean;
}

export interface Walk {
  readonly moves: readonly WireMove[];
  readonly runs: readonly Run[];
  readonly events: readonly Event[];
  readonly findings: readonly Problem[];
  readonly registers: ReadonlyMap<number, { readonly offsetMm: number; readonly line: number }>;
  readonly timeLine: readonly TimeMark[];
  /** True when the controller would stop with an alarm; nothing after it was run. */
  readonly halted: boolean;
}

interface Buffered extends ProgrammedBlock {
  readonly meta: Omit<WireMove, 'segment' | 'role'>;
}

/** Runs the motions as a controller does and gives the real path of the wire. */
export function walk(motions: readonly Motion[]): Walk {
  return new Controller().run(motions);
}

class Controller {
  private readonly moves: WireMove[] = [];
  private readonly runs: Run[] = [];
  private readonly events: Event[] = [];
  private readonly findings: Problem[] = [];
  private readonly registers = new Map<number, { offsetMm: number; line: number }>();
  private buffer: Buffered[] = [];
  private bufferLeftMm = 0;
  private side: Side | 'off' = 'off';
  private register: number | null = null;
  private awaitsExit = false;
  private threaded = false;
  private fluid = false;
  private level: number | null = null;
  private at: Point | null = null;
  private startsNewRun = true;
  private halted = false;

  run(motions: readonly Motion[]): Walk {
    for (let i = 0; i < motions.length && !this.halted; i++) this.step(motions[i]!, i);
    if (!this.halted) this.flush(null, null);
    const { moves, runs, events, findings, registers, halted } = this;
    return { moves, runs, events, findings, registers, halted, timeLine: this.timeLine() };
  }

  private step(m: Motion, index: number): void {
    switch (m.kind) {
      case 'set-register':
        this.registers.set(m.register, { offsetMm: m.offsetMm, line: m.place.line });
        return;
      case 'select-level':
        if (m.level !== this.level) this.startsNewRun = true;
        this.level = m.level;
        return;
      case 'compensation':
        this.switchCompensation(m.side, m.register, m.place.line);
        return;
      case 'fluid':
        this.fluid = m.on;
        return;
      case 'rapid':
      case 'line':
      case 'arc':
        this.move(m, index);
        return;
      case 'note':
        return;
      case 'stop':
        this.startsNewRun = true;
        this.event(m.optional ? 'optional-stop' : 'stop', index, m.place.line);
        return;
      case 'thread-wire':
      case 'cut-wire':
        this.flush(null, null);
        if (this.side !== 'off') {
          this.find(
            'PROOF-COMP-STILL-ON',
            m.place.line,
            'the wire is threaded or cut while compensation is on',
            'Switch compensation off before',
          );
        }
        this.event(m.kind === 'thread-wire' ? 'thread' : 'cut-wire', index, m.place.line);
        this.threaded = m.kind === 'thread-wire';
        this.startsNewRun = true;
        return;
      case 'end':
        this.flush(null, null);
        this.event('end', index, m.place.line);
        return;
    }
  }

  private event(kind: Event['kind'], motion: number, line: number): void {
    this.events.push({ kind, motion, line, at: this.at ?? { x: 0, y: 0 }, threadedBefore: this.threaded });
  }

  private find(code: string, line: number, what: string, fix: string): void {
    this.findings.push(problem({ code, severity: 'stop', what: `Line ${line}: ${what}`, fix, at: { line } }));
  }

  private switchCompensation(side: Side | 'off', register: number, line: number): void {
    if (side === 'off') {
      if (this.side !== 'off') this.awaitsExit = this.buffer.length > 0;
      this.side = 'off';
      return;
    }
    if (this.side !== 'off') {
      this.find(
        'PROOF-COMP-NOT-OFF',
        line,
        'compensation is switched on while it is on already',
        'Switch it off first',
      );
    }
    this.flush(null, null);
    const value = this.registers.get(register);
    if (value === undefined) {
      this.find(
        'PROOF-REGISTER-UNSET',
        line,
        `register ${register} holds no offset`,
        'Set the register before the compensation',
      );
      this.halted = true;
      return;
    }
    this.side = side;
    this.register = register;
    this.bufferLeftMm = side === 'left' ? value.offsetMm : -value.offsetMm;
    this.startsNewRun = true;
  }

  private move(m: Extract<Motion, { kind: 'rapid' | 'line' | 'arc' }>, index: number): void {
    this.at ??= m.from;
    const line_ = m.place.line;
    if (m.kind !== 'arc' && distanceMm(m.from, m.to) <= SAME_POINT_MM && distanceMm(this.at, m.to) <= SAME_POINT_MM)
      return;
    if (this.awaitsExit) {
      this.awaitsExit = false;
      if (m.kind === 'arc') {
        this.find(
          'PROOF-COMP-EXIT-ARC',
          line_,
          'compensation is switched off in an arc',
          'Switch it off in a straight lead-out',
        );
        this.halted = true;
        return;
      }
      const run = this.buffer.at(-1)!.meta.run;
      this.flush(m.to, this.meta(m, index, run));
      this.startsNewRun = true;
      return;
    }
    if (this.side !== 'off') {
      if (m.kind !== 'arc' && distanceMm(m.from, m.to) <= SAME_POINT_MM) return;
      const meta = this.meta(m, index);
      const segments = m.kind === 'arc' ? arcBlock(m.from, m.to, m.centre, m.clockwise) : [line(m.from, m.to)];
      for (const segment of segments) this.buffer.push({ segment, line: line_, meta });
      return;
    }
    if (m.kind === 'rapid') this.startsNewRun = true;
    const meta = this.meta(m, index);
    const displaced = distanceMm(this.at, m.from) > SAME_POINT_MM;
    if (displaced && m.kind === 'arc') this.moves.push({ ...meta, segment: line(this.at, m.from), role: 'plain' });
    const start = displaced && m.kind !== 'arc' ? this.at : m.from;
    const segments = m.kind === 'arc' ? arcBlock(m.from, m.to, m.centre, m.clockwise) : [line(start, m.to)];
    for (const segment of segments) this.moves.push({ ...meta, segment, role: 'plain' });
    this.at = m.to;
    if (m.kind === 'rapid') this.startsNewRun = true;
  }

  /** The machine's state for one move; opens a new run when something between asked for it. */
  private meta(m: Extract<Motion, { kind: 'rapid' | 'line' | 'arc' }>, motion: number, run?: number): Buffered['meta'] {
    if (run === undefined && this.startsNewRun) {
      this.startsNewRun = false;
      const compensated = this.side !== 'off';
      this.runs.push({
        id: this.runs.length,
        side: this.side,
        register: compensated ? this.register : null,
        offsetMm: compensated ? Math.abs(this.bufferLeftMm) : 0,
        level: this.level,
      });
    }
    return {
      rapid: m.kind === 'rapid',
      motion,
      line: m.place.line,
      level: this.level,
      threaded: this.threaded,
      fluid: this.fluid,
      feedMmPerMin: m.kind === 'rapid' ? 0 : m.feedMmPerMin,
      run: run ?? this.runs.length - 1,
    };
  }

  /** Compensates what was gathered since compensation came on. */
  private flush(exit: Point | null, exitMeta: Buffered['meta'] | null): void {
    const blocks = this.buffer;
    this.awaitsExit = false;
    if (blocks.length === 0) return;
    this.buffer = [];
    const path = compensate(this.at!, blocks, this.bufferLeftMm, exit);
    for (const piece of path.pieces) {
      const meta = piece.block < blocks.length ? blocks[piece.block]!.meta : exitMeta!;
      this.moves.push({ ...meta, segment: piece.segment, role: piece.role });
    }
    this.at = path.pieces.at(-1)?.segment.to ?? this.at;
    if (path.alarm !== null) {
      this.findings.push(path.alarm);
      this.halted = true;
    }
  }

  private timeLine(): TimeMark[] {
    const marks: TimeMark[] = [];
    let burnMin = 0;
    for (const move of this.moves) {
      if (!move.rapid && move.threaded && move.feedMmPerMin > 0)
        burnMin += segmentLengthMm(move.segment) / move.feedMmPerMin;
      const mark = { motion: move.motion, line: move.line, burnMin, at: move.segment.to };
      if (marks.at(-1)?.motion === move.motion) marks[marks.length - 1] = mark;
      else marks.push(mark);
    }
    return marks;
  }
}
