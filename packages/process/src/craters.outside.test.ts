import { outsideCheck } from '@gapwright/base/testing';
import { linearRegression, rSquared } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { craterArea, craterVolume } from './discharge.js';
import { exactly } from './testing/exactly.js';
import { readCsv } from './testing/read-csv.js';

const rows = readCsv('wire-single-craters-steel.csv');
const SOURCE = 'Gonzalez-Sanchez, single wire-cutting craters on steel, fitted with simple-statistics';

/** Fit of ln(column) over ln(peak current). */
function fitOf(column: string) {
  const points = rows.map((row): [number, number] => [Math.log(row.peak_current_A!), Math.log(row[column]!)]);
  const line = linearRegression(points);
  return {
    exponent: line.m,
    at100A: Math.exp(line.b + line.m * Math.log(100)),
    r2: rSquared(points, (x) => line.b + line.m * x),
  };
}

describe('crater laws against the data they were fitted to', () => {
  it.each([
    ['volume', 'crater_volume_mean_um3', craterVolume, 1.1, 0.87],
    ['area', 'crater_area_mean_um2', craterArea, 0.77, 0.9],
  ] as const)('%s', (name, column, law, exponent, r2) => {
    expect(rows).toHaveLength(9);
    const fit = fitOf(column);
    const at = (current: number): number => law(exactly(current, 'A')).value;
    const ours = Math.log(at(400) / at(40)) / Math.log(10);
    const common = { unit: '1', source: SOURCE, standing: 'library' as const };
    outsideCheck({
      ...common,
      id: `process-crater-${name}-exponent`,
      what: `Exponent of peak current in the crater ${name} law`,
      ours,
      theirs: fit.exponent,
      allowed: 1e-3,
      why: 'the law keeps four decimals',
    });
    outsideCheck({
      ...common,
      id: `process-crater-${name}-100`,
      what: `Crater ${name} at 100 A relative to the fit`,
      ours: at(100) / fit.at100A,
      theirs: 1,
      allowed: 2e-3,
      why: 'the law keeps four digits',
    });
    expect(fit.exponent).toBeCloseTo(exponent, 2);
    expect(fit.r2).toBeCloseTo(r2, 2);
    // The law's stated interval must hold about four of five measured means.
    const inside = rows.filter((row) => {
      const figure = law(exactly(row.peak_current_A!, 'A'));
      return row[column]! >= figure.low && row[column]! <= figure.high;
    });
    expect(inside.length).toBeGreaterThanOrEqual(6);
  });
});
