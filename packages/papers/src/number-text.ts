import type { Spread } from './spread.js';

const MINUS = '\u2212';

/** A number with fixed decimals, comma between thousands and a true minus; never "−0.00". */
export function fixed(value: number, decimals: number): string {
  const [whole = '0', fraction] = Math.abs(value).toFixed(decimals).split('.');
  const grouped = whole.replace(/\B(?=(\d{3})+(?!\d))/g, ',');
  const text = fraction === undefined ? grouped : `${grouped}.${fraction}`;
  const isZero = Number(Math.abs(value).toFixed(decimals)) === 0;
  return value < 0 && !isZero ? `${MINUS}${text}` : text;
}

/** A number with at most `decimals`, without trailing zeros: sizes as a drawing gives them. */
export function trimmed(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** Value and interval as two cells of a table; `range` is empty for a number without doubt. */
export interface SpreadText {
  readonly value: string;
  readonly range: string;
}

export function spreadText(s: Spread, decimals: number): SpreadText {
  if (s.low === s.high) return { value: fixed(s.value, decimals), range: '' };
  return { value: fixed(s.value, decimals), range: `(${fixed(s.low, decimals)}–${fixed(s.high, decimals)})` };
}

/** One run of text: `82 min (66–103)`. */
export function spreadPhrase(s: Spread, unit: string, decimals: number): string {
  const { value, range } = spreadText(s, decimals);
  return range === '' ? `${value} ${unit}` : `${value} ${unit} ${range}`;
}

/** Decimals that keep about three figures of the value and never more than the interval deserves. */
function minuteDecimals(min: number): number {
  const size = Math.abs(min);
  return size === 0 || size >= 10 ? 0 : size >= 1 ? 1 : 2;
}

/** From ten hours on, hours are easier to plan with than minutes. */
const HOURS_FROM_MIN = 600;

/** A time in minutes, or in hours from ten hours on: `82 min (66–103)`, `23.9 h (19.1–30.2)`. */
export function timePhrase(s: Spread): string {
  if (Math.abs(s.value) >= HOURS_FROM_MIN) {
    return spreadPhrase({ value: s.value / 60, low: s.low / 60, high: s.high / 60 }, 'h', 1);
  }
  return spreadPhrase(s, 'min', minuteDecimals(s.value));
}

/** A time in minutes as two cells. */
export function minuteCells(s: Spread): SpreadText {
  return spreadText(s, minuteDecimals(s.value));
}

/** A signed percentage without decimals: `−12 %`, `+4 %`. */
export function percentChange(ratio: number): string {
  const text = fixed(ratio * 100, 0);
  return `${ratio > 0 && text !== '0' ? '+' : ''}${text} %`;
}
