import { type Problem, type ProblemParts, problem } from '@gapwright/base';
import { type ArcSegment, arcPieces, distanceMm, type Point, type Segment } from '@gapwright/geometry';
import { commentPieces } from './comment-text.js';
import type { CompiledPost } from './compiled-post.js';
import { fitArc } from './fit-arc.js';
import type { Motion } from './motion.js';
import {
  fromCounts,
  LARGEST_FEED_MM_PER_MIN,
  LARGEST_POSITION_MM,
  type NumberFormat,
  toCounts,
} from './number-format.js';
import type { ProgramStep } from './step.js';

type Cut = Extract<ProgramStep, { kind: 'cut' }>;

/** Motions not yet written have no place in a text. */
const NOWHERE = Object.freeze({ line: 0, column: 0 });

/** Sweeps are at most half a turn; this slack in radians only takes up rounding of the angle. */
const HALF_TURN_SLACK_RAD = 1e-9;

/** Turns steps into motions whose every number is one the post can write. */
export class StepLowering {
  readonly motions: Motion[] = [];
  readonly problems: Problem[] = [];
  private position: Point | null;
  private readonly registers = new Set<number>();
  /** One count of the last coordinate digit, mm. */
  private readonly gridMm: number;

  constructor(private readonly compiled: CompiledPost) {
    const { post, unitMm } = compiled;
    this.gridMm = unitMm / 10 ** post.numbers.coordinate.decimals;
    this.position = post.initial.position;
  }

  /** A comment of its own; long ones become several. */
  note(text: string): void {
    for (const piece of commentPieces(text, this.compiled.post, this.problems)) {
      this.motions.push({ kind: 'note', text: piece, place: NOWHERE });
    }
  }

  end(): void {
    this.motions.push({ kind: 'end', place: NOWHERE });
  }

  step(step: ProgramStep): void {
    switch (step.kind) {
      case 'note':
        this.note(step.text);
        return;
      case 'set-register':
        this.setRegister(step.register.number, step.register.offsetMm);
        return;
      case 'move':
        this.rapidTo(step.to);
        return;
      case 'thread-wire':
        this.rapidTo(step.at);
        this.motions.push({ kind: 'thread-wire', place: NOWHERE });
        return;
      case 'cut-wire':
        this.motions.push({ kind: 'cut-wire', place: NOWHERE });
        return;
      case 'select-level':
        this.selectLevel(step.level);
        return;
      case 'fluid':
        this.motions.push({ kind: 'fluid', on: step.on, place: NOWHERE });
        return;
      case 'stop': {
        const [text = '', ...more] = commentPieces(step.reason, this.compiled.post, this.problems);
        this.motions.push({ kind: 'stop', optional: step.optional, text, place: NOWHERE });
        for (const piece of more) this.motions.push({ kind: 'note', text: piece, place: NOWHERE });
        return;
      }
      case 'cut':
        this.cut(step);
    }
  }

  private stop(code: string, what: string, fix: string, at: ProblemParts['at'] = {}): void {
    this.problems.push(problem({ code: `PROGRAM-${code}`, severity: 'stop', what, fix, at }));
  }

  private toFormat(valueMm: number, format: NumberFormat): number {
    const { unitMm } = this.compiled;
    return fromCounts(toCounts(valueMm / unitMm, format), format) * unitMm;
  }

  private snap(p: Point): Point {
    const { coordinate } = this.compiled.post.numbers;
    return { x: this.toFormat(p.x, coordinate), y: this.toFormat(p.y, coordinate) };
  }

  private isFinitePoint(p: Point, about: string): boolean {
    if (Math.abs(p.x) <= LARGEST_POSITION_MM && Math.abs(p.y) <= LARGEST_POSITION_MM) return true;
    const isNumber = Number.isFinite(p.x) && Number.isFinite(p.y);
    this.stop(
      'POSITION',
      isNumber
        ? `${about}: (${p.x.toFixed(3)}, ${p.y.toFixed(3)}) mm lies farther than ${LARGEST_POSITION_MM} mm from the drawing's zero`
        : `${about}: (${p.x}, ${p.y}) is no position`,
      isNumber ? 'Move the part near the zero of the drawing' : 'Plan the step again',
    );
    return false;
  }

  private setRegister(number: number, offsetMm: number): void {
    if (!Number.isSafeInteger(number) || number < 1) {
      this.stop('BAD-REGISTER', `Register ${number} is no register number`, 'Use a whole number from 1');
      return;
    }
    if (!(offsetMm >= 0 && offsetMm <= LARGEST_POSITION_MM)) {
      this.stop('BAD-OFFSET', `Register ${number} has the offset ${offsetMm} mm`, 'Give an offset of 0 mm or more');
      return;
    }
    this.registers.add(number);
    const written = this.toFormat(offsetMm, this.compiled.post.numbers.offset);
    this.motions.push({ kind: 'set-register', register: number, offsetMm: written, place: NOWHERE });
  }

  private selectLevel(level: number): void {
    const choices = this.compiled.byMeaning.get('select-level') ?? [];
    if (!Number.isSafeInteger(level) || level < 0 || !choices.some((f) => f.level === null || f.level === level)) {
      const what = `The post definition has no words for energy level ${level}`;
      this.stop('BAD-LEVEL', what, 'Add the level to functions.selectLevel');
      return;
    }
    this.motions.push({ kind: 'select-level', level, place: NOWHERE });
  }

  private rapidTo(p: Point): void {
    if (!this.isFinitePoint(p, 'Move')) return;
    const to = this.snap(p);
    const from = this.position;
    if (from !== null && from.x === to.x && from.y === to.y) return;
    this.motions.push({ kind: 'rapid', from: from ?? to, to, place: NOWHERE });
    this.position = to;
  }

  private cut(step: Cut): void {
    const at = { feature: step.feature, pass: step.pass };
    const name = `${step.feature} pass ${step.pass}`;
    const first = step.leadIn[0];
    const last = step.leadOut.at(-1);
    if (this.position === null) {
      this.stop('POSITION-UNKNOWN', `${name} starts from an unknown position`, 'Move to its start first', at);
      return;
    }
    if (first?.kind !== 'line' || last?.kind !== 'line') {
      const what = `${name} needs a line to switch compensation ${first?.kind === 'line' ? 'off' : 'on'}`;
      this.stop('LEAD', what, 'Begin the lead-in and end the lead-out with a line', at);
      return;
    }
    if (!this.registers.has(step.register) && !this.compiled.post.reading.registersSetOutside) {
      this.stop('REGISTER-NOT-SET', `${name} uses register ${step.register}, which is never set`, 'Set it first', at);
      return;
    }
    const feed = this.toFormat(step.feedMmPerMin, this.compiled.post.numbers.feed);
    if (!(feed > 0 && feed <= LARGEST_FEED_MM_PER_MIN)) {
      const what = `${name} has the feed ${step.feedMmPerMin} mm/min, which the post definition writes as ${feed}`;
      this.stop('BAD-FEED', what, 'Give another feed or allow more decimals', at);
      return;
    }
    const segments = [...step.leadIn, ...step.path, ...step.leadOut];
    if (!this.isConnected(segments, name, at)) return;
    if (this.compiled.post.comments.nameCuts) this.note(name);
    segments.forEach((segment, i) => {
      const isSwitch = i === 0 || i === segments.length - 1;
      if (isSwitch) {
        const [side, register] = i === 0 ? ([step.side, step.register] as const) : (['off', 0] as const);
        this.motions.push({ kind: 'compensation', side, register, place: NOWHERE });
      }
      const before = this.motions.length;
      this.segment(segment, feed, name, at);
      if (isSwitch && this.motions.length === before) {
        const what = `${name}: the line that switches compensation is shorter than the last digit written`;
        this.stop('LEAD', what, 'Make the lead-in and lead-out longer', at);
      }
    });
  }

  /** Every segment must start where the one before ends, within one count of the last digit. */
  private isConnected(segments: readonly Segment[], name: string, at: ProblemParts['at']): boolean {
    let here = this.position!;
    for (const segment of segments) {
      if (!this.isFinitePoint(segment.from, name) || !this.isFinitePoint(segment.to, name)) return false;
      const gapMm = distanceMm(here, segment.from);
      if (!(gapMm <= this.gridMm)) {
        const { x: xMm, y: yMm } = segment.from;
        const what = `${name} jumps by ${gapMm.toFixed(4)} mm to (${xMm.toFixed(3)}, ${yMm.toFixed(3)})`;
        this.stop('NOT-CONNECTED', what, 'Plan the path again', { ...at, xMm, yMm });
        return false;
      }
      here = segment.to;
    }
    return true;
  }

  private segment(segment: Segment, feed: number, name: string, at: ProblemParts['at']): void {
    if (segment.kind === 'arc' && Math.abs(segment.sweepRad) > Math.PI + HALF_TURN_SLACK_RAD) {
      const { centre, from, radiusMm, sweepRad } = segment;
      const startRad = Math.atan2(from.y - centre.y, from.x - centre.x);
      for (const piece of arcPieces(centre, radiusMm, startRad, sweepRad)) this.segment(piece, feed, name, at);
      return;
    }
    const from = this.position!;
    const to = this.snap(segment.to);
    // Shorter than the last digit: nothing to write. Positions are rounded absolutely, so nothing is lost for what follows.
    if (from.x === to.x && from.y === to.y) return;
    if (segment.kind === 'line') this.push({ kind: 'line', from, to, feedMmPerMin: feed, place: NOWHERE }, to);
    else this.arc(segment, from, to, feed, name, at);
  }

  private arc(arc: ArcSegment, from: Point, to: Point, feed: number, name: string, at: ProblemParts['at']): void {
    const { coordinate } = this.compiled.post.numbers;
    const { unitMm } = this.compiled;
    const counts = (p: Point): Point => ({
      x: toCounts(p.x / unitMm, coordinate),
      y: toCounts(p.y / unitMm, coordinate),
    });
    const { largestRadiusMm } = this.compiled.post.arcs;
    const fit = fitArc(arc, counts(from), counts(to), this.gridMm, largestRadiusMm);
    if (fit === 'line') {
      this.push({ kind: 'line', from, to, feedMmPerMin: feed, place: NOWHERE }, to);
      return;
    }
    if ('deviationCounts' in fit) {
      const { x: xMm, y: yMm } = from;
      const offMm = fit.deviationCounts * this.gridMm;
      const what =
        `${name}: the arc from (${xMm.toFixed(3)}, ${yMm.toFixed(3)}) with radius ${arc.radiusMm.toFixed(4)} mm would ` +
        `move by ${offMm.toFixed(5)} mm when written, more than the last digit (${this.gridMm} mm)`;
      this.stop('ARC-DEVIATES', what, 'Check that its ends lie on it, or allow more decimals in the post definition', {
        ...at,
        xMm,
        yMm,
      });
      return;
    }
    const centre = {
      x: fromCounts(fit.centre.x, coordinate) * unitMm,
      y: fromCounts(fit.centre.y, coordinate) * unitMm,
    };
    const { clockwise } = fit;
    this.push({ kind: 'arc', from, to, centre, clockwise, feedMmPerMin: feed, place: NOWHERE }, to);
  }

  private push(motion: Motion, to: Point): void {
    this.motions.push(motion);
    this.position = to;
  }
}
