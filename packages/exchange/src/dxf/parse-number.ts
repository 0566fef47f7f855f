const SPACE = 32;
const TAB = 9;
const DIGIT_0 = 48;
const DIGIT_9 = 57;
const PLUS = 43;
const MINUS = 45;
const DOT = 46;

/** Powers of ten that a double holds exactly. */
const EXACT_TENS = Float64Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));

/** Whole numbers up to here are exact doubles. */
const LARGEST_EXACT = Number.MAX_SAFE_INTEGER;

/** Bytes from `start` to `end` as text, one character a byte. */
export function byteText(bytes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let i = start; i < end; i++) text += String.fromCharCode(bytes[i]!);
  return text;
}

/**
 * The number that the bytes from `start` to `end` spell, blanks around it allowed; NaN when they are not wholly one
 * finite decimal number (`2,5`, `1.0x`, `NaN`, `1e999` and the empty text are not).
 *
 * Up to 2^53 in digits and 22 decimals the result is one exact division, hence correctly rounded; the rest goes
 * through `Number`, which rounds correctly as well.
 */
export function parseReal(bytes: Uint8Array, start: number, end: number): number {
  let i = start;
  let last = end;
  while (i < last && (bytes[i] === SPACE || bytes[i] === TAB)) i++;
  while (last > i && (bytes[last - 1] === SPACE || bytes[last - 1] === TAB)) last--;
  const first = i;
  const sign = bytes[i];
  if (sign === PLUS || sign === MINUS) i++;
  let digits = 0;
  let decimals = 0;
  let whole = 0;
  let isExact = true;
  for (; i < last; i++) {
    const digit = bytes[i]! - DIGIT_0;
    if (digit < 0 || digit > 9) break;
    whole = whole * 10 + digit;
    digits++;
  }
  if (i < last && bytes[i] === DOT) {
    i++;
    for (; i < last; i++) {
      const digit = bytes[i]! - DIGIT_0;
      if (digit < 0 || digit > 9) break;
      whole = whole * 10 + digit;
      digits++;
      decimals++;
    }
  }
  if (digits === 0) return Number.NaN;
  if (whole > LARGEST_EXACT || decimals >= EXACT_TENS.length) isExact = false;
  if (i < last) {
    if (!isExponent(bytes, i, last)) return Number.NaN;
    isExact = false;
  }
  if (isExact) {
    const size = decimals === 0 ? whole : whole / EXACT_TENS[decimals]!;
    return sign === MINUS ? -size : size;
  }
  const value = Number(byteText(bytes, first, last));
  return Number.isFinite(value) ? value : Number.NaN;
}

/** True when the bytes are `e` or `E`, an optional sign and at least one digit, with nothing after them. */
function isExponent(bytes: Uint8Array, start: number, end: number): boolean {
  let i = start;
  if (bytes[i] !== 101 && bytes[i] !== 69) return false;
  i++;
  if (bytes[i] === PLUS || bytes[i] === MINUS) i++;
  if (i >= end) return false;
  for (; i < end; i++) if (bytes[i]! < DIGIT_0 || bytes[i]! > DIGIT_9) return false;
  return true;
}

/** The whole number of up to six digits that the bytes spell, blanks around it allowed; NaN for anything else. */
export function parseGroupCode(bytes: Uint8Array, start: number, end: number): number {
  let i = start;
  let last = end;
  while (i < last && (bytes[i] === SPACE || bytes[i] === TAB)) i++;
  while (last > i && (bytes[last - 1] === SPACE || bytes[last - 1] === TAB)) last--;
  const isNegative = bytes[i] === MINUS;
  if (isNegative) i++;
  if (i >= last || last - i > 6) return Number.NaN;
  let value = 0;
  for (; i < last; i++) {
    const digit = bytes[i]! - DIGIT_0;
    if (digit < 0 || digit > 9) return Number.NaN;
    value = value * 10 + digit;
  }
  return isNegative ? -value : value;
}
