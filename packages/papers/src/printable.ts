import { BugError } from '@gapwright/base';

/** Longer words may break anywhere; mail addresses and file names are shorter and stay whole for copying. */
const LONGEST_WORD = 40;
/** Letters between two places to break: fits the narrowest column. */
const RUN = 12;
const ZERO_WIDTH_SPACE = '\u200b';

/** Pictures are set as they are; every picture of a view lies under this name. */
export const PICTURE_KEY = 'svg';

/** Papers never print NaN: throws a BugError with the path of the first number that is not finite. */
export function requireFinite(value: unknown, path = 'data'): void {
  if (typeof value === 'number' && !Number.isFinite(value)) {
    throw new BugError(`${path} is ${value}; papers print finite numbers only`);
  }
  if (typeof value !== 'object' || value === null) return;
  for (const [key, item] of Object.entries(value)) {
    requireFinite(item, Array.isArray(value) ? `${path}[${key}]` : `${path}.${key}`);
  }
}

/** Makes every string of a view fit for print; see {@link printableText}. */
export function printable(value: unknown): unknown {
  return withTexts(value, printableText);
}

/** Makes every string of a view fit for plain text: as for print, but words stay whole. */
export function plainText(value: unknown): unknown {
  return withTexts(value, harmless);
}

function withTexts(value: unknown, change: (text: string) => string): unknown {
  if (typeof value === 'string') return change(value);
  if (Array.isArray(value)) return value.map((item) => withTexts(item, change));
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([key, item]) => [key, key === PICTURE_KEY ? item : withTexts(item, change)]),
  );
}

/**
 * Control characters become spaces, direction overrides go (they would hide or reorder what is printed), a lone half of
 * a surrogate pair becomes □, and very long words get places to break.
 */
export function printableText(text: string): string {
  return harmless(text).replace(/\S+/gu, breakable);
}

function harmless(text: string): string {
  return text
    .replace(/\p{Cs}/gu, '□')
    .replace(/[\p{Cc}\p{Zl}\p{Zp}]+/gu, ' ')
    .replace(/[\u202a-\u202e\u2066-\u2069]/g, '');
}

function breakable(word: string): string {
  const letters = [...word];
  if (letters.length <= LONGEST_WORD) return word;
  const runs: string[] = [];
  for (let i = 0; i < letters.length; i += RUN) {
    runs.push(letters.slice(i, i + RUN).join(''));
  }
  return runs.join(ZERO_WIDTH_SPACE);
}
