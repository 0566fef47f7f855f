import type { Place } from '@gapwright/base';

/** A DXF file as a stream of group codes and values. Text and binary files differ only below this line. */
export interface TagSource {
  /** Group code of the current tag. */
  readonly code: number;
  /** Where the current tag is: a line number in a text file, a byte offset in a binary one. */
  readonly position: number;
  /** Moves to the next tag; false at the end of the data. Refuses what is not a tag. */
  next(): boolean;
  /** The current value as a number; NaN when it is not wholly one finite number. */
  real(): number;
  /** The current value as plain characters without blanks around it, for keywords and handles. */
  word(): string;
  /** The current value as the drawing's text, decoded by its code page. */
  text(): string;
  /** Tells the stream how text is encoded, once the header has said so. */
  setEncoding(codePage: string | null, isUnicode: boolean): void;
  /** The place of a position in words a user can look up. */
  place(position: number): Place;
  /** `line 14` or `byte 220`, for messages. */
  where(position: number): string;
}

/** True for group codes whose value is a floating-point number. */
export function isRealCode(code: number): boolean {
  return (
    (code >= 10 && code <= 59) ||
    (code >= 110 && code <= 149) ||
    (code >= 210 && code <= 239) ||
    (code >= 460 && code <= 469) ||
    (code >= 1010 && code <= 1059)
  );
}

/** True for group codes whose value is a whole number. */
export function isWholeCode(code: number): boolean {
  return (
    (code >= 60 && code <= 79) ||
    (code >= 90 && code <= 99) ||
    (code >= 160 && code <= 179) ||
    (code >= 270 && code <= 299) ||
    (code >= 370 && code <= 389) ||
    (code >= 400 && code <= 409) ||
    (code >= 420 && code <= 429) ||
    (code >= 440 && code <= 459) ||
    (code >= 1060 && code <= 1071)
  );
}
