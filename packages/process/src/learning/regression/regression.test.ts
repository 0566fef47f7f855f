import { readFileSync } from 'node:fs';
import { seededRandom } from '@gapwright/base';
import { expect, test } from 'vitest';
import { readTable, type Table } from '../table/read-table.js';
import { fitBlocks, leaveOneOut, sumsOf } from './block-model.js';
import { featureMaps } from './features.js';
import { learnFromTable } from './learn-from-table.js';
import { learnRegression } from './learn-regression.js';

function tableOf(path: string): Table {
  const text = readFileSync(new URL(`../../../../../fixtures/${path}`, import.meta.url), 'utf8');
  const { value } = readTable(
    text
      .trim()
      .split(/\r?\n/)
      .map((line) => line.split(',')),
  );
  return value!;
}

function made(rows: number, inputs: number, seed: number, response: (x: number[], noise: number) => number) {
  const random = seededRandom(seed);
  const numeric = Array.from({ length: inputs }, () => new Float64Array(rows));
  const y = new Float64Array(rows);
  for (let i = 0; i < rows; i++) {
    const x = numeric.map((c) => {
      c[i] = Math.exp(1 + 0.5 * random.normal());
      return c[i]!;
    });
    y[i] = response(x, random.normal());
  }
  return { inputs: { rows, numeric, groups: [] }, y };
}

test('closed-form leave-one-out is the fit made again without the row', () => {
  const { inputs, y } = made(14, 3, 5, (x, e) => x[0]! - x[1]! + e);
  for (const map of featureMaps(inputs)) {
    const design = map.designs[0]!;
    const precisions = new Array<number>(design.blockCount).fill(0.7);
    const weights = Float64Array.from(y, (_, i) => 1 / (1 + (i % 3)));
    const closed = leaveOneOut(fitBlocks(sumsOf(design, y, weights), precisions));
    for (const i of [0, 5, 13]) {
      const without = weights.slice();
      without[i] = 0;
      const again = leaveOneOut(fitBlocks(sumsOf(design, y, without), precisions), [i]);
      expect(closed.location[i]).toBeCloseTo(again.location[i]!, 6);
      expect(closed.scale[i]).toBeCloseTo(again.scale[i]!, 6);
    }
  }
});

test('a row never influences its own forecast', () => {
  const { inputs, y } = made(16, 2, 8, (x, e) => x[0]! ** 0.7 * Math.exp(0.1 * e));
  const before = learnRegression(inputs, y, 1).rows[4]!;
  const changed = y.slice();
  changed[4] = y[4]! * 3;
  const after = learnRegression(inputs, changed, 1).rows[4]!;
  expect(after.median).toBeCloseTo(before.median, 6);
  expect(after.interval80.high).toBeCloseTo(before.interval80.high, 6);
});

test.each([
  ['process/sinker-ti13zr13nb-graphite.csv', 'mrr_g_min', 0.5],
  ['process/sinker-ti13zr13nb-graphite.csv', 'ewr_g_min', 0.8],
  ['process/sinker-ti13zr13nb-graphite.csv', 'ra_um', 1],
  ['learning/inconel825-box-behnken.csv', 'ra_um', 1],
  ['learning/inconel825-box-behnken.csv', 'mrr_mm3_min', 0.8],
])('%s, %s: beats both baselines', (path, response, most) => {
  const { value } = learnFromTable(tableOf(path), response, undefined, 1);
  const { loo, baselines, coverage } = value!.regression;
  expect(loo.crps).toBeLessThan(most * Math.min(baselines.mean.crps, baselines.logLinear.crps));
  expect(coverage['80']).toBeGreaterThan(0.55);
  expect(coverage['95']).toBeGreaterThan(0.85);
});

test('the noise floor of repeated settings is reported', () => {
  const inputs = ['voltage_V', 'current_A', 'pulse_on_us', 'pulse_off_us'];
  const { value } = learnFromTable(tableOf('process/sinker-ti13zr13nb-graphite.csv'), 'ra_um', inputs, 1);
  // Ra of the six centre runs is 14.867 14.717 10.325 15.851 16.24 12.485: standard deviation 2.257.
  expect(value!.replicates).toMatchObject({ settings: 1, freedom: 5 });
  expect(value!.replicates!.sd).toBeCloseTo(2.257, 3);
});

test('where the inputs say nothing the forecast is the mean', () => {
  const { inputs, y } = made(40, 2, 21, (_, e) => 10 + e);
  const { isMeanOnly, loo, baselines } = learnRegression(inputs, y, 1);
  expect(isMeanOnly).toBe(true);
  expect(loo.crps).toBeLessThan(1.06 * Math.min(baselines.mean.crps, baselines.logLinear.crps));
});

test('a curved law is learnt, with intervals that hold what they say', () => {
  const { inputs, y } = made(150, 2, 3, (x, e) => 10 * Math.exp(-2 * (Math.log(x[0]!) - 1) ** 2 + 0.1 * e));
  const { loo, baselines, coverage } = learnRegression(inputs, y, 1);
  expect(loo.crps).toBeLessThan(0.3 * Math.min(baselines.mean.crps, baselines.logLinear.crps));
  expect(coverage['80']).toBeGreaterThan(0.72);
  expect(coverage['80']).toBeLessThan(0.88);
});

test('one wild row does not spoil the others', () => {
  const { inputs, y } = made(30, 2, 12, (x, e) => x[0]! * Math.exp(0.05 * e));
  y[7] = y[7]! * 40;
  const { rows, isRobust } = learnRegression(inputs, y, 1);
  expect(isRobust).toBe(true);
  const others = rows.filter((_, i) => i !== 7).map((r) => Math.abs(r.median / r.observed - 1));
  expect(others.sort((a, b) => a - b)[14]!).toBeLessThan(0.08);
});

test('finite scores come out of odd tables', () => {
  for (let seed = 1; seed <= 12; seed++) {
    const random = seededRandom(seed);
    const rows = 6 + random.below(10);
    const cells = Array.from({ length: rows }, (_, i) => [
      `${random.below(2)}`,
      `${i + 1}`,
      `${1e6 + 1e-9 * random.normal()}`,
      'AB'[random.below(2)]!,
      // Mostly zeros, an exact line, or tiny numbers.
      [`${random.uniform() < 0.15 ? 1 : 0}`, `${3 * i + 2}`, `${1e-30 * random.uniform()}`][seed % 3]!,
    ]);
    const table = readTable([['a', 'b', 'c', 'd', 'y'], ...cells]).value!;
    const { regression } = learnFromTable(table, 'y', undefined, 1).value!;
    const { loo, baselines, coverage } = regression;
    const all = [loo.mae, loo.crps, baselines.mean.crps, baselines.logLinear.crps, coverage['80'], coverage['95']];
    expect(all.every((v) => Number.isFinite(v) && v >= 0)).toBe(true);
  }
});
