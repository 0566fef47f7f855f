import type { Place } from '@gapwright/base';
import { type NameDecoder, nameDecoder } from './encoding.js';
import { byteText, parseGroupCode, parseReal } from './parse-number.js';
import { Refusal } from './refusal.js';
import type { TagSource } from './tag-source.js';

const LF = 10;
const CR = 13;
const SPACE = 32;
const TAB = 9;

/** Reads a text DXF: one line for the group code, one for the value. Lines end in CR LF, LF or CR. */
export class TextTags implements TagSource {
  code = -1;
  position = 0;
  private readonly bytes: Uint8Array;
  private readonly fileName: string | null;
  private readonly lineEnd: number;
  private at: number;
  private line = 0;
  private start = 0;
  private end = 0;
  private decoder: NameDecoder = nameDecoder(null, true);
  private lastBytesStart = -1;
  private lastBytesEnd = -1;
  private lastText = '';

  constructor(bytes: Uint8Array, fileName: string | null) {
    this.bytes = bytes;
    this.fileName = fileName;
    const hasByteOrderMark = bytes[0] === 0xef && bytes[1] === 0xbb && bytes[2] === 0xbf;
    this.at = hasByteOrderMark ? 3 : 0;
    // A stray CR inside a file of LF lines belongs to its line; only files without any LF end their lines in CR.
    this.lineEnd = bytes.includes(LF) ? LF : CR;
  }

  next(): boolean {
    if (this.at >= this.bytes.length) return false;
    this.takeLine();
    const code = parseGroupCode(this.bytes, this.start, this.end);
    if (Number.isNaN(code) || code < -5 || code > 1071) this.refuseCode();
    this.code = code;
    if (this.at >= this.bytes.length) {
      throw new Refusal(
        'DXF-TRUNCATED',
        `The file ends after group code ${code} on line ${this.line}, before its value: it is cut off`,
        'Export or send the drawing again',
        this.place(this.line),
      );
    }
    this.takeLine();
    this.position = this.line;
    return true;
  }

  real(): number {
    return parseReal(this.bytes, this.start, this.end);
  }

  word(): string {
    this.trim();
    return byteText(this.bytes, this.start, this.end);
  }

  text(): string {
    this.trim();
    const { bytes, start, end } = this;
    // Most entities repeat the layer of the one before.
    const length = end - start;
    if (length === this.lastBytesEnd - this.lastBytesStart) {
      let i = 0;
      while (i < length && bytes[start + i] === bytes[this.lastBytesStart + i]) i++;
      if (i === length) return this.lastText;
    }
    this.lastBytesStart = start;
    this.lastBytesEnd = end;
    this.lastText = this.decoder.decode(bytes.subarray(start, end));
    return this.lastText;
  }

  setEncoding(codePage: string | null, isUnicode: boolean): void {
    this.decoder = nameDecoder(codePage, isUnicode);
    this.lastBytesStart = -1;
    this.lastBytesEnd = -1;
    this.lastText = '';
  }

  place(position: number): Place {
    return { ...(this.fileName === null ? {} : { file: this.fileName }), line: position };
  }

  where(position: number): string {
    return `line ${position}`;
  }

  private takeLine(): void {
    const { bytes, lineEnd } = this;
    const start = this.at;
    let i = start;
    while (i < bytes.length && bytes[i] !== lineEnd) i++;
    this.at = i + 1;
    this.line++;
    this.start = start;
    while (i > start && bytes[i - 1] === CR) i--;
    this.end = i;
  }

  private trim(): void {
    const { bytes } = this;
    while (this.start < this.end && (bytes[this.start] === SPACE || bytes[this.start] === TAB)) this.start++;
    while (this.end > this.start && (bytes[this.end - 1] === SPACE || bytes[this.end - 1] === TAB)) this.end--;
  }

  private refuseCode(): never {
    const found = printable(byteText(this.bytes, this.start, Math.min(this.end, this.start + 40)));
    throw new Refusal(
      'DXF-BAD-CODE',
      `Line ${this.line} should hold a group code, a whole number from 0 to 1071, but holds "${found}"`,
      'A line was lost or added before it; export the drawing again',
      this.place(this.line),
    );
  }
}

/** Text that is safe to show in a message. */
export function printable(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  return text.replace(/[\u0000-\u001f\u007f-\u009f]/g, '·');
}
