import type { Place } from '@gapwright/base';
import { type NameDecoder, nameDecoder } from './encoding.js';
import { byteText } from './parse-number.js';
import { Refusal } from './refusal.js';
import { isRealCode, type TagSource } from './tag-source.js';

/** First bytes of a binary DXF. */
const SENTINEL = 'AutoCAD Binary DXF\r\n\u001a\0';

type ValueKind = 'text' | 'real' | 'byte' | 'short' | 'long' | 'wide' | 'chunk';

/** True when the bytes start like a binary DXF. */
export function isBinaryDxf(bytes: Uint8Array): boolean {
  return bytes.length >= SENTINEL.length && byteText(bytes, 0, SENTINEL.length) === SENTINEL;
}

/**
 * Reads a binary DXF. Up to R12 a group code is one byte (255 announces two more); from R13 on it is two bytes. The
 * first tag tells which: it is `0 SECTION` or a comment (999).
 */
export class BinaryTags implements TagSource {
  code = -1;
  position = 0;
  private readonly bytes: Uint8Array;
  private readonly view: DataView;
  private readonly fileName: string | null;
  private readonly isWide: boolean;
  private at = SENTINEL.length;
  private start = 0;
  private end = 0;
  private number = Number.NaN;
  private decoder: NameDecoder = nameDecoder(null, true);

  constructor(bytes: Uint8Array, fileName: string | null) {
    this.bytes = bytes;
    this.view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    this.fileName = fileName;
    const first = bytes[this.at];
    const second = bytes[this.at + 1];
    this.isWide = (first === 0 && second === 0) || (first === 0xe7 && second === 0x03);
  }

  next(): boolean {
    if (this.at >= this.bytes.length) return false;
    this.position = this.at;
    this.code = this.takeCode();
    const kind = valueKind(this.code);
    if (kind === undefined) {
      throw new Refusal(
        'DXF-BAD-CODE',
        `Byte ${this.position} should hold a group code, but holds ${this.code}`,
        'Bytes were lost or added before it; export the drawing again, as a text DXF if possible',
        this.place(this.position),
      );
    }
    this.takeValue(kind);
    return true;
  }

  real(): number {
    return Number.isFinite(this.number) ? this.number : Number.NaN;
  }

  word(): string {
    return byteText(this.bytes, this.start, this.end).trim();
  }

  text(): string {
    return this.decoder.decode(this.bytes.subarray(this.start, this.end)).trim();
  }

  setEncoding(codePage: string | null, isUnicode: boolean): void {
    this.decoder = nameDecoder(codePage, isUnicode);
  }

  place(position: number): Place {
    return { ...(this.fileName === null ? {} : { file: this.fileName }), field: `byte ${position}` };
  }

  where(position: number): string {
    return `byte ${position}`;
  }

  private takeCode(): number {
    if (this.isWide) return this.view.getInt16(this.advance(2), true);
    const short = this.bytes[this.advance(1)]!;
    return short === 255 ? this.view.getInt16(this.advance(2), true) : short;
  }

  private takeValue(kind: ValueKind): void {
    this.number = Number.NaN;
    this.start = this.at;
    switch (kind) {
      case 'text': {
        const end = this.bytes.indexOf(0, this.at);
        if (end < 0) this.refuseTruncated();
        this.end = end;
        this.at = end + 1;
        return;
      }
      case 'chunk':
        this.advance(this.bytes[this.advance(1)]!);
        break;
      case 'real':
        this.number = this.view.getFloat64(this.advance(8), true);
        break;
      case 'byte':
        this.number = this.bytes[this.advance(1)]!;
        break;
      case 'short':
        this.number = this.view.getInt16(this.advance(2), true);
        break;
      case 'long':
        this.number = this.view.getInt32(this.advance(4), true);
        break;
      case 'wide':
        this.number = Number(this.view.getBigInt64(this.advance(8), true));
        break;
    }
    this.end = this.start;
  }

  private advance(size: number): number {
    const start = this.at;
    if (start + size > this.bytes.length) this.refuseTruncated();
    this.at = start + size;
    return start;
  }

  private refuseTruncated(): never {
    throw new Refusal(
      'DXF-TRUNCATED',
      `The file ends inside the value that starts near byte ${this.position}: it is cut off`,
      'Export or send the drawing again',
      this.place(this.position),
    );
  }
}

/** How the value of a group code is stored in a binary file; undefined for codes that do not exist. */
function valueKind(code: number): ValueKind | undefined {
  if (isRealCode(code)) return 'real';
  if (code >= 0 && code <= 9) return 'text';
  if ((code >= 60 && code <= 79) || (code >= 170 && code <= 179) || (code >= 270 && code <= 289)) return 'short';
  if (code >= 90 && code <= 99) return 'long';
  if (code >= 100 && code <= 109) return 'text';
  if (code >= 160 && code <= 169) return 'wide';
  if (code >= 290 && code <= 299) return 'byte';
  if ((code >= 310 && code <= 319) || code === 1004) return 'chunk';
  if (code >= 300 && code <= 369) return 'text';
  if ((code >= 370 && code <= 389) || (code >= 400 && code <= 409)) return 'short';
  if ((code >= 390 && code <= 399) || (code >= 410 && code <= 419) || (code >= 430 && code <= 439)) return 'text';
  if ((code >= 420 && code <= 429) || (code >= 440 && code <= 459)) return 'long';
  if ((code >= 470 && code <= 481) || (code >= 999 && code <= 1009)) return 'text';
  if (code >= 1060 && code <= 1070) return 'short';
  if (code === 1071) return 'long';
  return undefined;
}
