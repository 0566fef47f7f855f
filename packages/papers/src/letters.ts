import { type Problem, problem } from '@gapwright/base';
import { fontLetters } from './font-letters.js';
import { readFonts } from './package-files.js';
import { printableText } from './printable.js';

let shared: ((codePoint: number) => boolean) | undefined;

/** All weights have the same letters, so the first one speaks for all. */
function hasLetter(codePoint: number): boolean {
  shared ??= fontLetters(readFonts()[0]!);
  return shared(codePoint);
}

/** The distinct letters of a text that the shipped typeface lacks; they print as empty boxes. */
export function missingLetters(text: string): string[] {
  return [...new Set(printableText(text))].filter((letter) => !hasLetter(letter.codePointAt(0)!));
}

/** Letters named in one message; a long foreign text would bury the rest. */
const NAMED = 12;

/**
 * What will not print as written: one warning per text with letters outside the typeface. Pass the data of any paper
 * before rendering; the paper can be rendered all the same.
 */
export function letterProblems(value: unknown, path = 'data'): Problem[] {
  if (typeof value === 'string') {
    const missing = missingLetters(value);
    if (missing.length === 0) return [];
    const more = missing.length > NAMED ? ' …' : '';
    return [
      problem({
        code: 'PAPERS-NO-LETTER',
        severity: 'warn',
        what: `${path} has letters that the papers' typeface lacks: ${missing.slice(0, NAMED).join(' ')}${more}`,
        fix: 'Write it in Latin, Greek or Cyrillic letters; otherwise empty boxes are printed in their place',
        at: { field: path },
      }),
    ];
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, item]) =>
    letterProblems(item, Array.isArray(value) ? `${path}[${key}]` : `${path}.${key}`),
  );
}
