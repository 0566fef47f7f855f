import { expect, test } from 'vitest';
import { interval80, kerfMm, meanOf, passOffsetMm, priceFromMargin } from './examples.js';

test('offset and kerf of the examples', () => {
  expect(passOffsetMm(0.25, 0.03, 0.05)).toBeCloseTo(0.205, 12);
  expect(kerfMm(0.25, 0.03)).toBeCloseTo(0.31, 12);
});

test('a tenth of the draws lies beyond each end of the interval', () => {
  const [low, high] = interval80(45, 0.2);
  // Quantiles of the log-normal with median 45 and scatter 0.2, tenth and nine tenths.
  expect(low).toBeCloseTo(34.8254, 3);
  expect(high).toBeCloseTo(58.147, 3);
});

test('the mean of a lopsided number lies above its median', () => {
  expect(meanOf(45, 0.2)).toBeCloseTo(45.9091, 3);
});

test('the price leaves the margin, and a small order its smallest value', () => {
  expect(priceFromMargin(78, 0.22, 90, 4)).toBeCloseTo(100, 9);
  expect(priceFromMargin(10, 0.22, 90, 4)).toBe(22.5);
});
