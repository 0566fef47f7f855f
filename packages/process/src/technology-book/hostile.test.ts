import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  IN825_MAPPING,
  publishedEquation,
  publishedModel,
  TEST_SOURCE,
  TI13_MAPPING,
} from '../testing/published-tables.js';
import { parseTechnologyBook } from './book-file.js';
import { fittedNotMeasured } from './fitted-not-measured.js';
import type { ImportMapping } from './import-mapping.js';
import { importTechnologyPoints } from './import-points.js';
import { evaluatePolynomial, parsePolynomial } from './polynomial.js';
import { unitFactor } from './units.js';

const cell = fc.oneof(
  fc.string(),
  fc.constantFrom('', '1', '0', '-3', '1e308', 'NaN', '∞', '1,5', ' 2 ', '00'),
  fc.double().map(String),
);
const header = TI13_MAPPING.columns.map((c) => c.header);

describe('rubbish', () => {
  it('tables give a result or stop problems, never a throw', () => {
    fc.assert(
      fc.property(fc.array(fc.array(cell, { maxLength: 9 }), { maxLength: 8 }), fc.boolean(), (rows, withHeader) => {
        const { value, problems } = importTechnologyPoints(withHeader ? [header, ...rows] : rows, TI13_MAPPING);
        const stopped = problems.some((p) => p.severity === 'stop');
        expect(value === null).toBe(stopped);
        for (const p of problems) expect(p.message).toMatch(/\.$/);
        for (const point of value ?? []) {
          for (const v of [...Object.values(point.conditions), ...Object.values(point.results)])
            expect(v).toBeGreaterThan(0);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('books, equations and units never throw', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.string(), fc.string(), (json, text, unit) => {
        expect(parseTechnologyBook(json).value).toBeNull();
        const { value } = parsePolynomial(text, ['x', 'y1']);
        if (value !== null) expect(typeof evaluatePolynomial(value, [1, 2])).toBe('number');
        expect(Array.isArray(unitFactor(unit, 'mm').problems)).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  it('rows without results are told once, and spread only where a result differs', () => {
    const burn = (rate: string, wear: string, ra: string) => ['60', '8', '50', '10', rate, wear, ra];
    const found = (...rows: string[][]) => importTechnologyPoints([header, ...rows], TI13_MAPPING).problems;
    const silent = found(burn('0.1', '', ''), burn('', '', ''), burn('', '', ''));
    expect(silent.map((p) => p.code)).toEqual(['TECH-NO-RESULT']);
    expect(silent[0]!.message).toContain('Rows 3, 4 have no result');
    // One burn states the rate, the other the finish: nothing to compare.
    expect(found(burn('0.1', '', ''), burn('', '', '3.1'))).toEqual([]);
    expect(found(burn('0.1', '', ''), burn('0.12', '', '3.1')).map((p) => p.code)).toEqual(['TECH-REPLICATES']);
  });

  it('a table of 20,000 rows is imported and judged in seconds', () => {
    const mapping: ImportMapping = { ...IN825_MAPPING, source: TEST_SOURCE };
    const rows = Array.from({ length: 20_000 }, (_, k) => [
      String(20 + ((k * 7919) % 60_007) / 1000),
      '10',
      String(1 + (k % 5)),
      (3 + ((k * 104_729) % 1009) / 500).toFixed(3),
      (2 + ((k * 15_485_863) % 1013) / 700).toFixed(3),
    ]);
    const started = performance.now();
    const { value } = importTechnologyPoints(
      [['pulse_on_us', 'pulse_off_us', 'current_A', 'ra_um', 'mrr_mm3_min'], ...rows],
      mapping,
    );
    expect(value).toHaveLength(20_000);
    // Half a second on a plain machine; the bound only tells seconds from minutes.
    expect(performance.now() - started).toBeLessThan(15_000);
  });
});

describe('telling fitted from measured', () => {
  it('never takes rows that are there twice for a fit', () => {
    const factors = [[1], [2], [3], [1], [2], [3], [1], [2], [3]];
    expect(fittedNotMeasured(factors, [1.2, 3.9, 5.1, 1.2, 3.9, 5.1, 1.2, 3.9, 5.1], 0.1)).toBeNull();
  });

  it('finds an exact sum for any effects, and leaves scatter of a hundred steps alone', () => {
    const effect = fc.integer({ min: 0, max: 999 });
    fc.assert(
      fc.property(
        fc.array(effect, { minLength: 7, maxLength: 7 }),
        fc.infiniteStream(fc.integer({ min: -100, max: 100 })),
        (e, noise) => {
          const factors: number[][] = [];
          const y: number[] = [];
          const noisy: number[] = [];
          for (let i = 0; i < 4; i++) {
            for (let j = 0; j < 3; j++) {
              factors.push([i, j]);
              y.push(1000 + e[i]! + e[4 + j]!);
              noisy.push(1000 + e[i]! + e[4 + j]! + noise.next().value);
            }
          }
          const spread = Math.max(...y) - Math.min(...y);
          expect(fittedNotMeasured(factors, y, 1) !== null).toBe(spread >= 20);
          const distinct = new Set(noisy.map((v, k) => v - y[k]!)).size;
          if (distinct > 8) expect(fittedNotMeasured(factors, noisy, 1)).toBeNull();
        },
      ),
      { numRuns: 200, seed: 5 },
    );
  });

  it('reads every polynomial of the published models', () => {
    for (const id of ['kumar_wedm_cp_ti_grade2', 'padhi_wedm_2016', 'soundhar_sinker_2019', 'paturi_wedm_in718_2021']) {
      const model = publishedModel(id);
      for (const output of Object.keys(model.equations))
        expect(publishedEquation(model, output).terms.length).toBeGreaterThan(5);
    }
  });
});
