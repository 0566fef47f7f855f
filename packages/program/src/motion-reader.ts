import type { Problem } from '@gapwright/base';
import type { Point } from '@gapwright/geometry';
import type { Block, Word } from './block-scanner.js';
import { type CompiledPost, INCH_MM } from './compiled-post.js';
import type { Motion, TextPlace } from './motion.js';
import { asDecimal, LARGEST_FEED_MM_PER_MIN, LARGEST_POSITION_MM } from './number-format.js';
import { readCentre } from './read-centre.js';
import { readFailure } from './read-failure.js';
import { checkDigits, type SortedWords, sortWords } from './sort-words.js';
import type { Side } from './step.js';

type MotionMode = 'rapid' | 'line' | 'arcClockwise' | 'arcCounterClockwise';

/** The modal state of a control, fed block by block. */
export class MotionReader {
  readonly motions: Motion[] = [];
  unitMm: number | null;
  distance: 'absolute' | 'incremental' | null;
  mode: MotionMode | 'passed over' | null = null;
  compensation: Side | 'off' = 'off';
  feedMmPerMin: number | null = null;
  position: Point | null;
  readonly registers = new Set<number>();
  private ended = false;
  private started = false;
  private tapeMarks = 0;
  /** Compensation was switched in a block without motion; the next motion is where it acts. */
  private switchPending = false;
  private line = 0;
  private place: TextPlace = { line: 1, column: 1 };

  constructor(private readonly compiled: CompiledPost) {
    const { initial } = compiled.post;
    this.unitMm = initial.unit === null ? null : initial.unit === 'inch' ? INCH_MM : 1;
    this.distance = initial.distance;
    this.position = initial.position;
  }

  /** Takes one block; returns what is wrong with it, or null. */
  take(block: Block): Problem | null {
    this.line = block.line;
    if (block.tapeMark > 0) {
      const problem = this.tapeMark(block);
      if (problem !== null) return problem;
    }
    if (block.words.length === 0) {
      this.notes(block);
      return null;
    }
    if (this.ended) {
      return this.fail('BLOCK-AFTER-END', block.words[0]!, 'a block follows the end of the program', 'Remove it');
    }
    this.started = true;
    const sorted = sortWords(block, this.compiled);
    if ('code' in sorted) return sorted;
    this.place = { line: block.line, column: (sorted.first ?? block.words[0]!).column };
    const meaning = sorted.call?.function.meaning;
    if (meaning !== 'stop' && meaning !== 'optional-stop') this.notes(block);
    return sorted.call === null ? this.motionBlock(sorted) : this.functionBlock(sorted.call, block);
  }

  /** What is missing at the end of the text, or null. */
  unfinished(): Problem | null {
    if (this.ended) return null;
    const what = 'the program stops without an end word';
    return readFailure('NO-END', Math.max(1, this.line), 1, what, 'Check that the text is complete');
  }

  private fail(code: string, word: Word, what: string, fix: string): Problem {
    return readFailure(code, this.line, word.column, what, fix);
  }

  private notes(block: Block): void {
    for (const { text, column } of block.comments) {
      this.motions.push({ kind: 'note', text, place: { line: block.line, column } });
    }
  }

  /** `%` is allowed once before the first block and once after the end. */
  private tapeMark(block: Block): Problem | null {
    this.tapeMarks++;
    const isStart = this.tapeMarks === 1 && !this.started;
    if (isStart || (this.ended && this.tapeMarks <= 2)) return null;
    const what = '"%" stands neither before the first block nor after the end';
    return readFailure('TAPE-MARK', block.line, block.tapeMark, what, 'Remove it');
  }

  private functionBlock(call: NonNullable<SortedWords['call']>, block: Block): Problem | null {
    const { place } = this;
    switch (call.function.meaning) {
      case 'set-register':
        return this.setRegister(call.slots.register!, call.slots.offset!);
      case 'select-level': {
        const word = call.slots.level;
        const level = word?.value ?? call.function.level!;
        if (word !== undefined && !isCount(word, 0)) {
          return this.fail('BAD-LEVEL', word, `${word.value} is no level number`, 'Use a whole number');
        }
        this.motions.push({ kind: 'select-level', level, place });
        return null;
      }
      case 'thread-wire':
        if (this.position === null) {
          return this.fail(
            'POSITION-UNKNOWN',
            call.word,
            'the wire is threaded at an unknown position',
            'Move there first',
          );
        }
        this.motions.push({ kind: 'thread-wire', place });
        return null;
      case 'cut-wire':
        this.motions.push({ kind: 'cut-wire', place });
        return null;
      case 'fluid-on':
      case 'fluid-off':
        this.motions.push({ kind: 'fluid', on: call.function.meaning === 'fluid-on', place });
        return null;
      case 'stop':
      case 'optional-stop': {
        const text = block.comments.map((c) => c.text).join(' ');
        this.motions.push({ kind: 'stop', optional: call.function.meaning === 'optional-stop', text, place });
        return null;
      }
      case 'end':
        if (this.compensation !== 'off') {
          return this.fail(
            'COMPENSATION-LEFT-ON',
            call.word,
            'the program ends with compensation on',
            'Switch it off first',
          );
        }
        this.ended = true;
        this.motions.push({ kind: 'end', place });
        return null;
    }
  }

  private setRegister(register: Word, offset: Word): Problem | null {
    if (!isCount(register, 1)) {
      return this.fail(
        'BAD-REGISTER',
        register,
        `${register.value} is no register number`,
        'Use a whole number from 1',
      );
    }
    if (this.unitMm === null) return this.unitUnknown(offset);
    const digits = checkDigits(this.line, offset, this.compiled.post.numbers.offset);
    if (digits !== null) return digits;
    if (offset.value < 0) {
      return this.fail('BAD-OFFSET', offset, 'the offset is negative', 'Use the other side of compensation instead');
    }
    const offsetMm = offset.value * this.unitMm;
    if (offsetMm > LARGEST_POSITION_MM) {
      return this.fail('BAD-OFFSET', offset, `the offset is ${offsetMm} mm`, 'Look for a lost decimal point');
    }
    this.registers.add(register.value);
    this.motions.push({ kind: 'set-register', register: register.value, offsetMm, place: this.place });
    return null;
  }

  private unitUnknown(word: Word): Problem {
    const what = 'a length stands before the program says whether it is in mm or inch';
    return this.fail('UNIT-UNKNOWN', word, what, 'Put the unit word before it');
  }

  private motionBlock(sorted: SortedWords): Problem | null {
    const { modal, letters } = sorted;
    if (modal.unit !== undefined) this.unitMm = modal.unit.meaning === 'inch' ? INCH_MM : 1;
    if (modal.distance !== undefined) {
      this.distance = modal.distance.meaning === 'incremental' ? 'incremental' : 'absolute';
    }
    const feed = letters.feed === undefined ? null : this.setFeed(letters.feed);
    if (feed !== null) return feed;
    const switched = this.switchCompensation(sorted);
    if (switched !== null) return switched;
    if (modal.motion !== undefined) this.mode = modal.motion.meaning as MotionMode;
    else if (sorted.passed === 'mode') this.mode = 'passed over';
    const word = letters.x ?? letters.y ?? letters.centreX ?? letters.centreY ?? letters.radius;
    if (word === undefined) {
      if (modal.compensation !== undefined) this.switchPending = true;
      return null;
    }
    return this.move(letters, word, modal.compensation !== undefined);
  }

  private setFeed(word: Word): Problem | null {
    if (this.unitMm === null) return this.unitUnknown(word);
    const digits = checkDigits(this.line, word, this.compiled.post.numbers.feed);
    if (digits !== null) return digits;
    const feedMmPerMin = word.value * this.unitMm;
    if (!(feedMmPerMin > 0 && feedMmPerMin <= LARGEST_FEED_MM_PER_MIN)) {
      return this.fail('BAD-FEED', word, `the feed is ${feedMmPerMin} mm/min`, 'Give a feed that a machine can run');
    }
    this.feedMmPerMin = feedMmPerMin;
    return null;
  }

  private switchCompensation(sorted: SortedWords): Problem | null {
    const modal = sorted.modal.compensation;
    const register = sorted.letters.register;
    if (modal === undefined || modal.meaning === 'compensationOff') {
      if (register !== undefined) {
        const what = `${register.letter} stands without a word that switches compensation on`;
        return this.fail('REGISTER-WITHOUT-SIDE', register, what, 'Put it beside the compensation word');
      }
      if (modal === undefined || this.compensation === 'off') return null;
      this.compensation = 'off';
      this.motions.push({ kind: 'compensation', side: 'off', register: 0, place: this.place });
      return null;
    }
    if (register === undefined) {
      return this.fail(
        'SIDE-WITHOUT-REGISTER',
        modal.word,
        'compensation is switched on without a register',
        'Name it',
      );
    }
    if (!isCount(register, 1)) {
      return this.fail(
        'BAD-REGISTER',
        register,
        `${register.value} is no register number`,
        'Use a whole number from 1',
      );
    }
    if (!this.registers.has(register.value) && !this.compiled.post.reading.registersSetOutside) {
      const what = `register ${register.value} is used but never set`;
      return this.fail('REGISTER-NOT-SET', register, what, 'Set it before this block');
    }
    if (this.compensation !== 'off') {
      const what = 'compensation is switched on while it is on already';
      return this.fail('COMPENSATION-ALREADY-ON', modal.word, what, 'Switch it off first');
    }
    this.compensation = modal.meaning === 'compensationLeft' ? 'left' : 'right';
    const { compensation: side, place } = this;
    this.motions.push({ kind: 'compensation', side, register: register.value, place });
    return null;
  }

  private move(letters: SortedWords['letters'], word: Word, switching: boolean): Problem | null {
    const { mode, place } = this;
    if (mode === null)
      return this.fail('MOTION-UNKNOWN', word, 'a position without a motion word', 'Put the motion word first');
    const centreWord = letters.centreX ?? letters.centreY ?? letters.radius;
    const isArc = mode === 'arcClockwise' || mode === 'arcCounterClockwise';
    if (!isArc && centreWord !== undefined) {
      return this.fail(
        'CENTRE-WITHOUT-ARC',
        centreWord,
        `${centreWord.letter} stands in a block that is no arc`,
        'Remove it',
      );
    }
    if (this.unitMm === null) return this.unitUnknown(word);
    if (this.distance === null) {
      const what = 'a position stands before the program says whether it is absolute or incremental';
      return this.fail('DISTANCE-UNKNOWN', word, what, 'Put that word before it');
    }
    for (const role of ['x', 'y', 'centreX', 'centreY', 'radius'] as const) {
      const digits = letters[role] === undefined ? null : this.checkCoordinate(letters[role]);
      if (digits !== null) return digits;
    }
    const from = this.position;
    const isFirst = from === null;
    if (isFirst && (this.distance === 'incremental' || letters.x === undefined || letters.y === undefined)) {
      const what = 'this move starts from an unknown position';
      return this.fail('POSITION-UNKNOWN', word, what, 'Begin with an absolute move that gives both axes');
    }
    if (isFirst && mode !== 'rapid' && mode !== 'passed over') {
      const what = 'the first move cuts from an unknown position';
      return this.fail('POSITION-UNKNOWN', word, what, 'Begin with a rapid move');
    }
    const to = { x: this.target('x', letters.x), y: this.target('y', letters.y) };
    if (Math.abs(to.x) > LARGEST_POSITION_MM || Math.abs(to.y) > LARGEST_POSITION_MM) {
      const what = `the move ends more than ${LARGEST_POSITION_MM / 1000} m away`;
      return this.fail('TOO-FAR', word, what, 'Look for a lost decimal point');
    }
    this.position = to;
    if (mode === 'passed over') return null;
    const wasPending = this.switchPending || switching;
    this.switchPending = false;
    // Where the first move comes from nobody knows; it stands for a move from its own end.
    if (mode === 'rapid') {
      this.motions.push({ kind: 'rapid', from: from ?? to, to, place });
      return null;
    }
    if (this.feedMmPerMin === null)
      return this.fail('FEED-UNKNOWN', word, 'a cut without a feed', 'Give the feed before it');
    const feedMmPerMin = this.feedMmPerMin;
    if (mode === 'line') {
      this.motions.push({ kind: 'line', from: from!, to, feedMmPerMin, place });
      return null;
    }
    if (wasPending) {
      const what = 'compensation changes on an arc, where controls behave differently';
      return this.fail('COMPENSATION-ON-ARC', word, what, 'Switch it on a line');
    }
    const clockwise = mode === 'arcClockwise';
    const { arcs } = this.compiled.post;
    const along = (start: number, w: Word): number => this.along(start, w, arcs.centre === 'from start');
    const centre = readCentre(
      letters,
      word,
      { from: from!, to, clockwise, line: this.line, unitMm: this.unitMm, along },
      this.compiled.post,
    );
    if ('code' in centre) return centre;
    this.motions.push({ kind: 'arc', from: from!, to, centre, clockwise, feedMmPerMin, place });
    return null;
  }

  private checkCoordinate(word: Word): Problem | null {
    return checkDigits(this.line, word, this.compiled.post.numbers.coordinate);
  }

  /** Absolute coordinate in mm; sums are made in program units, where they are decimals. */
  private target(axis: 'x' | 'y', word: Word | undefined): number {
    if (word === undefined) return this.position![axis];
    return this.along(this.position?.[axis] ?? 0, word, this.distance === 'incremental');
  }

  private along(startMm: number, word: Word, isRelative: boolean): number {
    const unitMm = this.unitMm!;
    return isRelative ? asDecimal(asDecimal(startMm / unitMm) + word.value) * unitMm : word.value * unitMm;
  }
}

/** A whole number of at least `least`, written without decimals. */
function isCount(word: Word, least: number): boolean {
  return Number.isSafeInteger(word.value) && word.value >= least && word.decimals <= 0;
}
