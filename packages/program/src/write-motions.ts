import { BugError } from '@gapwright/base';
import type { Point } from '@gapwright/geometry';
import { type CompiledPost, compilePost, type ModalMeaning, spellings } from './compiled-post.js';
import type { Motion } from './motion.js';
import { type NumberFormat, toCounts, writeCounts } from './number-format.js';
import type { PostDefinition } from './post-definition.js';
import type { FunctionMeaning, Slot } from './post-functions.js';
import { readBlocks } from './read-program.js';

type Cutting = Extract<Motion, { kind: 'line' | 'arc' | 'rapid' }>;
type Compensation = Extract<Motion, { kind: 'compensation' }>;

/**
 * Writes motions as program text. Positions, offsets and feeds are rounded to the post's digits; motions that come from
 * `readProgram` or from `writeProgram` are on those digits already, so the text says exactly the same.
 */
export function writeMotions(motions: readonly Motion[], post: PostDefinition): string {
  const writer = new MotionWriter(compilePost(post));
  return writer.write(motions);
}

class MotionWriter {
  private readonly post: PostDefinition;
  private readonly lines: string[] = [];
  private nextNumber: number;
  private mode: ModalMeaning | null;
  private distance: 'absolute' | 'incremental' | null;
  private position: Point | null;
  private feedCounts: number | null;
  private pending: Compensation | null = null;

  constructor(private readonly compiled: CompiledPost) {
    this.post = compiled.post;
    this.nextNumber = this.post.blockNumbers?.start ?? 0;
    // The header decides in which state the program starts; reading it is the one way to know.
    const { reader } = readBlocks(this.post.header.join('\n'), this.post);
    this.mode = reader.mode === 'passed over' ? null : reader.mode;
    this.distance = reader.distance;
    this.position = reader.position;
    this.feedCounts = reader.feedMmPerMin === null ? null : this.counts(reader.feedMmPerMin, this.post.numbers.feed);
  }

  write(motions: readonly Motion[]): string {
    const { tapeMarks, header, lineEnd } = this.post;
    if (tapeMarks) this.lines.push('%');
    // Notes before the first action stand above the header, where a reader of the text looks for the title.
    const firstAction = motions.findIndex((m) => m.kind !== 'note');
    const opening = firstAction === -1 ? motions.length : firstAction;
    for (let i = 0; i < opening; i++) this.motion(motions[i]!);
    for (const block of header) this.block(block.trim().split(/\s+/));
    for (let i = opening; i < motions.length; i++) this.motion(motions[i]!);
    this.flushCompensation();
    if (tapeMarks) this.lines.push('%');
    const end = lineEnd === 'CRLF' ? '\r\n' : '\n';
    return this.lines.join(end) + end;
  }

  private motion(motion: Motion): void {
    if (motion.kind !== 'rapid' && motion.kind !== 'line') this.flushCompensation();
    switch (motion.kind) {
      case 'note':
        this.line([this.comment(motion.text)], this.post.blockNumbers?.onComments ?? false);
        return;
      case 'set-register':
        this.call('set-register', null, {
          register: String(motion.register),
          offset: writeCounts(this.counts(motion.offsetMm, this.post.numbers.offset), this.post.numbers.offset),
        });
        return;
      case 'select-level':
        this.call('select-level', motion.level, { level: String(motion.level) });
        return;
      case 'compensation':
        this.pending = motion;
        return;
      case 'rapid':
      case 'line':
      case 'arc':
        this.cutting(motion);
        return;
      case 'thread-wire':
      case 'cut-wire':
        this.call(motion.kind);
        return;
      case 'fluid':
        this.call(motion.on ? 'fluid-on' : 'fluid-off');
        return;
      case 'stop':
        this.call(motion.optional ? 'optional-stop' : 'stop', null, {}, motion.text);
        return;
      case 'end':
        for (const block of this.post.footer) this.block(block.trim().split(/\s+/));
        this.call('end');
    }
  }

  private comment(text: string): string {
    return this.post.comments.style === 'parentheses' ? `(${text})` : `; ${text}`;
  }

  private line(parts: readonly string[], isNumbered: boolean): void {
    const separator = this.post.spaceBetweenWords ? ' ' : '';
    const { blockNumbers } = this.post;
    if (blockNumbers === null || !isNumbered) {
      this.lines.push(parts.join(separator));
      return;
    }
    this.lines.push([blockNumbers.letter + this.nextNumber, ...parts].join(separator));
    this.nextNumber += blockNumbers.step;
  }

  private block(parts: readonly string[]): void {
    this.line(parts, true);
  }

  private call(
    meaning: FunctionMeaning,
    level: number | null = null,
    slots: Partial<Record<Slot, string>> = {},
    comment = '',
  ): void {
    const choices = this.compiled.byMeaning.get(meaning) ?? [];
    const chosen = choices.find((f) => f.level === null || f.level === level);
    if (chosen === undefined) throw new BugError(`the post has no block for ${meaning} ${level ?? ''}`);
    const parts = chosen.words.map((w) => w.letter + (w.slot === null ? w.text : slots[w.slot]!));
    this.block(comment === '' ? parts : [...parts, this.comment(comment)]);
  }

  private spelling(meaning: ModalMeaning): string {
    return spellings(this.post, meaning)[0]!;
  }

  private compensationWords(c: Compensation): string[] {
    if (c.side === 'off') return [this.spelling('compensationOff')];
    const word = this.spelling(c.side === 'left' ? 'compensationLeft' : 'compensationRight');
    return [word, this.post.letters.register + c.register];
  }

  /** Compensation switched without a line of its own stands in a block alone. */
  private flushCompensation(): void {
    if (this.pending === null) return;
    const words = this.compensationWords(this.pending);
    this.pending = null;
    this.block(words);
  }

  private counts(mm: number, format: NumberFormat): number {
    return toCounts(mm / this.compiled.unitMm, format);
  }

  private coordinate(letter: string, counts: number): string {
    return letter + writeCounts(counts, this.post.numbers.coordinate);
  }

  private cutting(motion: Cutting): void {
    const { letters, numbers, repeat, arcs } = this.post;
    const parts: string[] = [];
    const isFirst = this.position === null;
    const from = this.position ?? motion.to;
    const distance = isFirst ? 'absolute' : this.post.distance;
    if (distance !== this.distance) parts.push(this.spelling(distance));
    this.distance = distance;
    if (this.pending !== null) parts.push(...this.compensationWords(this.pending));
    this.pending = null;
    const mode = motion.kind !== 'arc' ? motion.kind : motion.clockwise ? 'arcClockwise' : 'arcCounterClockwise';
    if (mode !== this.mode || repeat.motionWord) parts.push(this.spelling(mode));
    this.mode = mode;

    const startX = this.counts(from.x, numbers.coordinate);
    const startY = this.counts(from.y, numbers.coordinate);
    const endX = this.counts(motion.to.x, numbers.coordinate);
    const endY = this.counts(motion.to.y, numbers.coordinate);
    const isStill = startX === endX && startY === endY;
    const writesAll = repeat.coordinates || isFirst || isStill || motion.kind === 'arc';
    const isAbsolute = distance === 'absolute';
    if (writesAll || startX !== endX) parts.push(this.coordinate(letters.x, isAbsolute ? endX : endX - startX));
    if (writesAll || startY !== endY) parts.push(this.coordinate(letters.y, isAbsolute ? endY : endY - startY));
    if (motion.kind === 'arc') {
      const isRelative = arcs.centre === 'from start';
      const centreX = this.counts(motion.centre.x, numbers.coordinate);
      const centreY = this.counts(motion.centre.y, numbers.coordinate);
      parts.push(this.coordinate(letters.centreX, isRelative ? centreX - startX : centreX));
      parts.push(this.coordinate(letters.centreY, isRelative ? centreY - startY : centreY));
    }
    if (motion.kind !== 'rapid') {
      const feed = this.counts(motion.feedMmPerMin, numbers.feed);
      if (feed !== this.feedCounts || repeat.feed) parts.push(letters.feed + writeCounts(feed, numbers.feed));
      this.feedCounts = feed;
    }
    this.position = motion.to;
    this.block(parts);
  }
}
