import { outsideCheck } from '@gapwright/base/testing';
import { describe, expect, it } from 'vitest';
import { IT_GRADES, iso286FormulaUm, iso286ToleranceUm } from './iso-286.js';
import { iso2768ToleranceMm } from './iso-2768.js';

/** One size inside each step, with the formula's IT7 before rounding. */
const IT7_UNROUNDED: readonly (readonly [sizeMm: number, um: number])[] = [
  [2, 8.67],
  [5, 11.72],
  [8, 14.37],
  [14, 17.32],
  [25, 20.92],
  [40, 24.98],
  [65, 29.7],
  [100, 34.76],
  [150, 40.35],
  [200, 46.33],
  [300, 51.63],
  [360, 56.66],
  [450, 62.22],
];

describe('standard tolerances', () => {
  it('agrees with the formula of the standard', () => {
    for (const [sizeMm, um] of IT7_UNROUNDED) {
      outsideCheck({
        id: `process-it7-formula-${sizeMm}`,
        what: `IT7 at ${sizeMm} mm before rounding`,
        ours: iso286FormulaUm(sizeMm, 'IT7'),
        theirs: um,
        unit: 'um',
        allowed: 0.006,
        why: 'two decimals',
        source: 'ISO 286-1, 16 × (0.45 D^(1/3) + 0.001 D)',
        standing: 'from memory',
      });
    }
    let worst = 0;
    for (const [sizeMm] of IT7_UNROUNDED) {
      for (const grade of IT_GRADES) {
        const table = iso286ToleranceUm(sizeMm, grade).value!.value;
        worst = Math.max(worst, Math.abs(table / iso286FormulaUm(sizeMm, grade) - 1));
      }
    }
    outsideCheck({
      id: 'process-it-table-formula',
      what: 'Largest difference of the table from the formula, 13 steps × 8 grades',
      ours: worst,
      theirs: 0,
      unit: '1',
      allowed: 0.17,
      why: 'the standard rounds small sizes by up to about 15 %',
      source: 'ISO 286-1',
      standing: 'from memory',
    });
  });

  it('grows tenfold every five grades', () => {
    let worst = 0;
    for (const [sizeMm] of IT7_UNROUNDED) {
      for (const [fine, coarse] of [
        ['IT6', 'IT11'],
        ['IT7', 'IT12'],
      ] as const) {
        const ratio = iso286ToleranceUm(sizeMm, coarse).value!.value / iso286ToleranceUm(sizeMm, fine).value!.value;
        worst = Math.max(worst, Math.abs(ratio - 10));
      }
    }
    outsideCheck({
      id: 'process-it-tenfold',
      what: 'IT11/IT6 and IT12/IT7, largest difference from 10',
      ours: worst,
      theirs: 0,
      unit: '1',
      allowed: 0.65,
      why: 'rounded table values',
      source: 'ISO 286-1, grades from IT6 up',
      standing: 'published',
    });
  });

  it('gives the widely printed values', () => {
    const known: readonly (readonly [number, string, number])[] = [
      [25, 'IT7', 21],
      [10, 'IT6', 9],
      [50, 'IT8', 39],
      [100, 'IT7', 35],
      [6, 'IT11', 75],
    ];
    for (const [size, grade, um] of known) {
      outsideCheck({
        id: `process-${grade.toLowerCase()}-${size}`,
        what: `${grade} at ${size} mm`,
        ours: iso286ToleranceUm(size, grade).value!.value,
        theirs: um,
        unit: 'um',
        allowed: 0,
        why: 'table value',
        source: 'ISO 286-1, table of standard tolerances',
        standing: 'published',
      });
    }
  });

  it('says so outside the tables', () => {
    for (const [size, grade] of [
      [0, 'IT7'],
      [501, 'IT7'],
      [Number.NaN, 'IT7'],
      [20, 'IT4'],
      [20, ''],
    ] as const) {
      expect(iso286ToleranceUm(size, grade).problems[0]!.code).toBe('PROCESS-IT-OUTSIDE');
    }
    for (const [size, letter] of [
      [0.4, 'm'],
      [3000, 'f'],
      [2, 'v'],
      [4001, 'm'],
      [20, 'q'],
      [20, 'constructor'],
    ] as const) {
      expect(iso2768ToleranceMm(size, letter).problems[0]!.code).toBe('PROCESS-ISO2768-OUTSIDE');
    }
  });

  it('reads general tolerances', () => {
    const rows: readonly (readonly [number, string, number])[] = [
      [3, 'm', 0.1],
      [30, 'f', 0.1],
      [30.1, 'm', 0.3],
      [121, 'mK', 0.5],
      [2000, 'm', 1.2],
    ];
    for (const [size, letter, mm] of rows) {
      outsideCheck({
        id: `process-2768-${letter}-${size}`,
        what: `General tolerance class ${letter} at ${size} mm`,
        ours: iso2768ToleranceMm(size, letter).value!.value,
        theirs: mm,
        unit: 'mm',
        allowed: 0,
        why: 'table value',
        source: 'ISO 2768-1, linear dimensions, classes f and m',
        standing: 'from memory',
      });
    }
  });
});
