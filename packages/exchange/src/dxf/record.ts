import type { Place } from '@gapwright/base';
import { Refusal } from './refusal.js';
import { isRealCode, isWholeCode, type TagSource } from './tag-source.js';
import { printable } from './text-tags.js';

/** Drawing coordinates beyond this are taken for damage; squares and products of such numbers stay finite. */
const LARGEST_NUMBER = 1e12;

/**
 * The tags of one entity, table entry or vertex. One record is used again and again, so that a long file makes no
 * garbage; take out what is needed before reading the next one.
 */
export class DxfRecord {
  kind = '';
  /** Where the record starts. */
  position = 0;
  layer = '0';
  handle: string | null = null;
  /** Group 2: a block's, layer's or section's name. */
  name: string | null = null;
  /** Group 6 of a LAYER; entities do not need theirs. */
  lineType = '';
  isInPaperSpace = false;
  isInvisible = false;
  hasEmptyHandle = false;
  /** Numeric tags in file order. */
  count = 0;
  codes = new Int16Array(64);
  values = new Float64Array(64);
  positions = new Int32Array(64);
  private readonly tags: TagSource;

  constructor(tags: TagSource) {
    this.tags = tags;
  }

  /**
   * Reads the record that starts at the current tag (group 0) up to the next group 0. Numbers are parsed, and must be
   * numbers, only when `takesNumbers` is set; the rest of a record that is not drawn says nothing about the shape.
   */
  read(takesNumbers: boolean): void {
    const { tags } = this;
    this.kind = tags.word();
    this.position = tags.position;
    this.layer = '0';
    this.handle = null;
    this.name = null;
    this.lineType = '';
    this.isInPaperSpace = false;
    this.isInvisible = false;
    this.hasEmptyHandle = false;
    this.count = 0;
    let groupDepth = 0;
    let isEmbedded = false;
    while (this.advance()) {
      const { code } = tags;
      if (code === 102) {
        // {NAME … } holds an application's own data, which may use any code.
        groupDepth = Math.max(0, groupDepth + (tags.word().startsWith('{') ? 1 : -1));
        continue;
      }
      if (code === 101) isEmbedded = true;
      if (groupDepth > 0 || isEmbedded || code >= 999 || code < 0) continue;
      if (code === 8) this.layer = tags.text();
      else if (code === 2) this.name = tags.text();
      else if (code === 5) this.takeHandle();
      else if (code === 6 && this.kind === 'LAYER') this.lineType = tags.text();
      else if (code === 67) this.isInPaperSpace = this.number() === 1;
      else if (code === 60) this.isInvisible = this.number() === 1;
      else if (takesNumbers && (isRealCode(code) || isWholeCode(code))) this.push(code, this.number());
    }
  }

  /** The one value of a code, or `otherwise`. The same code twice with different values is refused. */
  optional(code: number, otherwise: number): number {
    let found: number | undefined;
    for (let i = 0; i < this.count; i++) {
      if (this.codes[i] !== code) continue;
      const value = this.values[i]!;
      if (found !== undefined && found !== value) {
        throw new Refusal(
          'DXF-REPEATED-VALUE',
          `${this.label()} gives group ${code} twice, as ${found} and ${value} (${this.tags.where(this.positions[i]!)})`,
          'A line was repeated or lost; export the drawing again',
          this.place(this.positions[i]),
        );
      }
      found = value;
    }
    return found ?? otherwise;
  }

  /** The one value of a code; refuses a record without it. `meaning` names it in the message. */
  required(code: number, meaning: string): number {
    const value = this.optional(code, Number.NaN);
    if (!Number.isNaN(value)) return value;
    throw new Refusal(
      'DXF-MISSING-VALUE',
      `${this.label()} has no ${meaning} (group ${code})`,
      'Delete or redraw it, and export the drawing again',
      this.place(),
    );
  }

  /** All values of a code in file order. */
  all(code: number): number[] {
    const out: number[] = [];
    for (let i = 0; i < this.count; i++) if (this.codes[i] === code) out.push(this.values[i]!);
    return out;
  }

  /** A whole number, refused when it has decimals or lies outside its bounds. */
  whole(code: number, meaning: string, otherwise: number, least: number, most: number): number {
    const value = this.optional(code, otherwise);
    if (Number.isInteger(value) && value >= least && value <= most) return value;
    throw new Refusal(
      'DXF-BAD-VALUE',
      `${this.label()} has ${meaning} ${value} (group ${code}); it must be a whole number from ${least} to ${most}`,
      'Delete or redraw it, and export the drawing again',
      this.place(),
    );
  }

  /** The entity in words, e.g. `ARC 2F on layer CUT (line 88)`. */
  label(): string {
    const handle = this.handle === null ? '' : ` ${this.handle}`;
    return `${printable(this.kind)}${handle} on layer ${printable(this.layer)} (${this.tags.where(this.position)})`;
  }

  place(position = this.position): Place {
    return {
      ...this.tags.place(position),
      layer: this.layer,
      ...(this.handle === null ? {} : { handle: this.handle }),
    };
  }

  /** Moves to the next tag; false when it starts the next record. */
  private advance(): boolean {
    if (this.tags.next()) return this.tags.code !== 0;
    throw new Refusal(
      'DXF-TRUNCATED',
      `The file ends inside ${this.label()}, without the closing EOF: it is cut off`,
      'Export or send the drawing again',
      this.place(this.tags.position),
    );
  }

  private takeHandle(): void {
    const handle = this.tags.word();
    if (handle === '') this.hasEmptyHandle = true;
    else this.handle = printable(handle);
  }

  private number(): number {
    const { tags } = this;
    const value = tags.real();
    if (Math.abs(value) <= LARGEST_NUMBER) return value;
    const found = Number.isNaN(value) ? `"${printable(tags.word().slice(0, 40))}"` : String(value);
    throw new Refusal(
      'DXF-BAD-NUMBER',
      `${this.label()}: group ${tags.code} on ${tags.where(tags.position)} must be a number below 1e12 in size with a point for decimals, but is ${found}`,
      'Correct the number or export the drawing again',
      this.place(tags.position),
    );
  }

  private push(code: number, value: number): void {
    if (this.count === this.codes.length) this.grow();
    this.codes[this.count] = code;
    this.values[this.count] = value;
    this.positions[this.count] = this.tags.position;
    this.count++;
  }

  private grow(): void {
    const size = this.codes.length * 2;
    const { codes, values, positions } = this;
    this.codes = new Int16Array(size);
    this.codes.set(codes);
    this.values = new Float64Array(size);
    this.values.set(values);
    this.positions = new Int32Array(size);
    this.positions.set(positions);
  }
}
