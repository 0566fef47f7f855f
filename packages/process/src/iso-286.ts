import { BugError, type Figure, given, problem, type Result } from '@gapwright/base';
import { ISO_286, ISO_286_MEMORY } from './sources.js';

/** Standard tolerance grades held here. */
export const IT_GRADES = ['IT5', 'IT6', 'IT7', 'IT8', 'IT9', 'IT10', 'IT11', 'IT12'] as const;
export type ItGrade = (typeof IT_GRADES)[number];

/** `[over mm, up to and including mm, IT5 … IT12 in µm]` */
const TABLE: readonly (readonly [over: number, to: number, values: readonly number[]])[] = [
  [0, 3, [4, 6, 10, 14, 25, 40, 60, 100]],
  [3, 6, [5, 8, 12, 18, 30, 48, 75, 120]],
  [6, 10, [6, 9, 15, 22, 36, 58, 90, 150]],
  [10, 18, [8, 11, 18, 27, 43, 70, 110, 180]],
  [18, 30, [9, 13, 21, 33, 52, 84, 130, 210]],
  [30, 50, [11, 16, 25, 39, 62, 100, 160, 250]],
  [50, 80, [13, 19, 30, 46, 74, 120, 190, 300]],
  [80, 120, [15, 22, 35, 54, 87, 140, 220, 350]],
  [120, 180, [18, 25, 40, 63, 100, 160, 250, 400]],
  [180, 250, [20, 29, 46, 72, 115, 185, 290, 460]],
  [250, 315, [23, 32, 52, 81, 130, 210, 320, 520]],
  [315, 400, [25, 36, 57, 89, 140, 230, 360, 570]],
  [400, 500, [27, 40, 63, 97, 155, 250, 400, 630]],
];

/** Sizes above this stand in the table from memory only. */
const READ_UP_TO_MM = 315;

/** Multiples of the tolerance unit for IT5 … IT12. */
const MULTIPLES = [7, 10, 16, 25, 40, 64, 100, 160] as const;

/**
 * Width of a standard tolerance, µm, from the table (not the formula, which differs by up to 15 % at small sizes).
 * Problem `PROCESS-IT-OUTSIDE` for sizes outside 0 to 500 mm or an unknown grade.
 */
export function iso286ToleranceUm(sizeMm: number, grade: string): Result<Figure> {
  const column = (IT_GRADES as readonly string[]).indexOf(grade.trim().toUpperCase());
  const row = sizeMm > 0 ? TABLE.find(([over, to]) => sizeMm > over && sizeMm <= to) : undefined;
  if (column < 0 || row === undefined) {
    const what =
      column < 0
        ? `"${grade.slice(0, 20)}" is not one of ${IT_GRADES.join(', ')}`
        : `Size ${sizeMm} mm is outside the 0 to 500 mm of the tolerance table`;
    const fix = 'State the tolerance in mm';
    return { value: null, problems: [problem({ code: 'PROCESS-IT-OUTSIDE', severity: 'stop', what, fix })] };
  }
  const says = `${IT_GRADES[column]} for ${row[0]} to ${row[1]} mm`;
  const source = row[1] <= READ_UP_TO_MM ? ISO_286 : ISO_286_MEMORY;
  return { value: given(row[2][column]!, 'um', says, source), problems: [] };
}

/** The finest-to-coarsest first grade whose whole width covers ± `toleranceMm` at this size; null when even IT5 is wider. */
export function iso286GradeFor(sizeMm: number, toleranceMm: number): ItGrade | null {
  const row = TABLE.find(([over, to]) => sizeMm > over && sizeMm <= to);
  if (row === undefined) return null;
  let found: ItGrade | null = null;
  row[2].forEach((width, k) => {
    if (width <= 2 * toleranceMm * 1000) found = IT_GRADES[k]!;
  });
  return found;
}

/** Unrounded value of the formula k × (0.45 D^(1/3) + 0.001 D) at the middle of the size step, µm; for checking the table. */
export function iso286FormulaUm(sizeMm: number, grade: ItGrade): number {
  const row = TABLE.find(([over, to]) => sizeMm > over && sizeMm <= to);
  if (row === undefined) throw new BugError(`size ${sizeMm} mm is outside the table`);
  // The first step counts from 1 mm.
  const middle = Math.sqrt(Math.max(row[0], 1) * row[1]);
  return MULTIPLES[IT_GRADES.indexOf(grade)]! * (0.45 * Math.cbrt(middle) + 0.001 * middle);
}
