import { outsideCheck } from '@gapwright/base/testing';
import { describe, expect, it } from 'vitest';
import { exactly } from '../testing/exactly.js';
import { readCsv } from '../testing/read-csv.js';
import { publishedRaIn825, publishedRaTi13, publishedRemovalIn825 } from './published-fits.js';

const ti = readCsv('sinker-ti13zr13nb-graphite.csv');
const inconel = readCsv('in825-box-behnken.csv');

/** Ordinary least squares by Gaussian elimination on the normal equations; kept apart from the product's own code. */
function leastSquares(rows: readonly (readonly number[])[], y: readonly number[]): number[] {
  const n = rows[0]!.length;
  const a = Array.from({ length: n }, (_, i) => [
    ...Array.from({ length: n }, (_, j) => sum(rows.map((r) => r[i]! * r[j]!))),
    sum(rows.map((r, k) => r[i]! * y[k]!)),
  ]);
  for (let i = 0; i < n; i++) {
    const pivot = a.slice(i).reduce((best, r, k) => (Math.abs(r[i]!) > Math.abs(a[best]![i]!) ? k + i : best), i);
    [a[i], a[pivot]] = [a[pivot]!, a[i]!];
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const f = a[r]![i]! / a[i]![i]!;
      for (let c = i; c <= n; c++) a[r]![c]! -= f * a[i]![c]!;
    }
  }
  return a.map((r, i) => r[n]! / r[i]!);
}

const sum = (values: readonly number[]): number => values.reduce((total, v) => total + v, 0);

interface Fit {
  readonly id: string;
  readonly name: string;
  readonly rows: readonly Record<string, number>[];
  readonly inputs: readonly string[];
  readonly output: string;
  readonly ours: (at: readonly number[]) => number;
  readonly stated: readonly number[];
  readonly constant: number;
  readonly r2: number;
  readonly mape: number;
}

const FITS: readonly Fit[] = [
  {
    id: 'ra-ti13',
    name: 'Ra of Ti-13Zr-13Nb',
    rows: ti,
    inputs: ['current_A', 'pulse_on_us'],
    output: 'ra_um',
    ours: ([i, t]) => publishedRaTi13(exactly(i!, 'A'), exactly(t!, 'us')).value!.value,
    stated: [0.3495, 1.0782],
    constant: 0.5283,
    r2: 0.644,
    mape: 0.138,
  },
  {
    id: 'ra-in825',
    name: 'Ra of Inconel 825',
    rows: inconel,
    inputs: ['current_A', 'pulse_on_us'],
    output: 'ra_um',
    ours: ([i, t]) => publishedRaIn825(exactly(i!, 'A'), exactly(t!, 'us')).value!.value,
    stated: [0.1504, 0.4537],
    constant: 0.5853,
    r2: 0.888,
    mape: 0.075,
  },
  {
    id: 'rate-in825',
    name: 'removal rate of Inconel 825',
    rows: inconel,
    inputs: ['current_A', 'pulse_on_us', 'pulse_off_us'],
    output: 'mrr_mm3_min',
    ours: ([i, t, off]) => publishedRemovalIn825(exactly(i!, 'A'), exactly(t!, 'us'), exactly(off!, 'us')).value!.value,
    stated: [1.0621, 0.146, -0.5253],
    constant: 2.4541,
    r2: 0.946,
    mape: 0.137,
  },
];

describe('power laws refitted to the published burns', () => {
  it.each(FITS)('$name', (fit) => {
    const x = fit.rows.map((row) => [1, ...fit.inputs.map((name) => Math.log(row[name]!))]);
    const y = fit.rows.map((row) => Math.log(row[fit.output]!));
    const [logConstant, ...exponents] = leastSquares(x, y);
    const source = 'the published burns themselves, least squares on logs';
    const middle = fit.inputs.map((name) => fit.rows[0]![name]!);
    exponents.forEach((theirs, k) => {
      // Exponent of the product's law, by moving one input by a tenth inside its range.
      const moved = middle.map((v, j) => (j === k ? v * 1.05 : v));
      const ours = Math.log(fit.ours(moved) / fit.ours(middle)) / Math.log(1.05);
      outsideCheck({
        id: `sinking-fit-${fit.id}-${fit.inputs[k]!.replaceAll('_', '-').toLowerCase()}`,
        what: `Exponent of ${fit.inputs[k]} in the ${fit.name}`,
        ours,
        theirs,
        unit: '1',
        allowed: 1e-3,
        why: 'the law keeps four decimals',
        source,
        standing: 'published',
      });
      expect(theirs).toBeCloseTo(fit.stated[k]!, 3);
    });
    outsideCheck({
      id: `sinking-fit-${fit.id}-constant`,
      what: `Constant of the ${fit.name}`,
      ours: fit.constant,
      theirs: Math.exp(logConstant!),
      unit: '1',
      allowed: 2e-3 * fit.constant,
      why: 'rounded exponents move it in the third digit',
      source,
      standing: 'published',
    });
    const predicted = fit.rows.map((row) => fit.ours(fit.inputs.map((name) => row[name]!)));
    const meanLog = sum(y) / y.length;
    const residual = sum(y.map((v, k) => (v - Math.log(predicted[k]!)) ** 2));
    const r2 = 1 - residual / sum(y.map((v) => (v - meanLog) ** 2));
    const mape = sum(fit.rows.map((row, k) => Math.abs(predicted[k]! / row[fit.output]! - 1))) / y.length;
    outsideCheck({
      id: `sinking-fit-${fit.id}-r2`,
      what: `Share of the spread the ${fit.name} law explains (logs)`,
      ours: r2,
      theirs: fit.r2,
      unit: '1',
      allowed: 1e-3,
      why: 'three decimals',
      source: 'fit worked apart from this program on the same burns',
      standing: 'from memory',
    });
    outsideCheck({
      id: `sinking-fit-${fit.id}-mape`,
      what: `Mean error of the ${fit.name} law`,
      ours: mape,
      theirs: fit.mape,
      unit: '1',
      allowed: 1e-3,
      why: 'three decimals',
      source: 'fit worked apart from this program on the same burns',
      standing: 'from memory',
    });
  });
});
