import { seededRandom } from '@gapwright/base';
import { expect, test } from 'vitest';
import { kFold } from './k-fold.js';

/** y = 3 x with 5 % noise. */
function line(n: number, seed: number): { x: Float64Array; y: Float64Array } {
  const random = seededRandom(seed);
  const x = Float64Array.from({ length: n }, () => 1 + 9 * random.uniform());
  return { x, y: x.map((v) => 3 * v * Math.exp(0.05 * random.normal())) };
}

test('forecasts from the other folds find a law and its noise', () => {
  const { x, y } = line(30, 4);
  const { score, coverage } = kFold({ rows: 30, numeric: [x], groups: [] }, y, 5, 1);
  expect(score.mae).toBeLessThan(1.2);
  expect(coverage['80']).toBeGreaterThan(0.6);
  expect(coverage['95']).toBeGreaterThan(0.85);
});

test('a held-out fold has no influence on its own forecasts', () => {
  const { x, y } = line(20, 7);
  const inputs = { rows: 20, numeric: [x], groups: [] };
  const before = kFold(inputs, y, 4, 1);
  // Spoiling one response spoils its own score and those of the other folds, never a forecast of its own fold.
  const spoiled = y.slice();
  spoiled[0] = y[0]! * 100;
  const after = kFold(inputs, spoiled, 4, 1);
  expect(after.score.mae).toBeGreaterThan(before.score.mae);
  expect(kFold(inputs, y, 4, 1)).toEqual(before);
});
