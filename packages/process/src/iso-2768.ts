import { type Figure, given, problem, type Result } from '@gapwright/base';
import { ISO_2768 } from './sources.js';

/** Upper end (inclusive) of each nominal size range, mm; the first range starts at 0.5. */
const UP_TO_MM = [3, 6, 30, 120, 400, 1000, 2000, 4000] as const;

/** ± mm by range; null where the standard gives none. */
const PLUS_MINUS_MM: Readonly<Record<string, readonly (number | null)[]>> = {
  f: [0.05, 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, null],
  m: [0.1, 0.1, 0.2, 0.3, 0.5, 0.8, 1.2, 2],
  c: [0.2, 0.3, 0.5, 0.8, 1.2, 2, 3, 4],
  v: [null, 0.5, 1, 1.5, 2.5, 4, 6, 8],
};

/**
 * General tolerance of ISO 2768-1 for a linear size, ± mm. `tolerance` is one of f, m, c, v; a combined call-out such as
 * `mK` is read by its first letter. Problem `PROCESS-ISO2768-OUTSIDE` where the standard gives no value.
 */
export function iso2768ToleranceMm(sizeMm: number, toleranceClass: string): Result<Figure> {
  const letter = /^([fmcv])[HKL]?$/.exec(toleranceClass.trim())?.[1];
  const k = sizeMm >= 0.5 ? UP_TO_MM.findIndex((to) => sizeMm <= to) : -1;
  const value = letter === undefined || k < 0 ? null : (PLUS_MINUS_MM[letter]![k] ?? null);
  if (value === null) {
    const what =
      letter === undefined
        ? `"${toleranceClass.slice(0, 20)}" is not a class of ISO 2768-1`
        : `ISO 2768-1 class ${letter} gives no tolerance for ${sizeMm} mm`;
    const fix = letter === undefined ? 'Use f, m, c or v' : 'State the tolerance at the dimension';
    return { value: null, problems: [problem({ code: 'PROCESS-ISO2768-OUTSIDE', severity: 'stop', what, fix })] };
  }
  const from = k === 0 ? 0.5 : UP_TO_MM[k - 1]!;
  return { value: given(value, 'mm', `± for ${from} to ${UP_TO_MM[k]} mm, class ${letter}`, ISO_2768), problems: [] };
}
