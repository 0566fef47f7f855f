import fc from 'fast-check';
import { expect, test } from 'vitest';
import { linearScale, logScale, logTicks, niceTicks } from './scale.js';

test('ticks are steps of 1, 2 or 5 inside the range', () => {
  expect(niceTicks(0, 10, 5)).toEqual([0, 2, 4, 6, 8, 10]);
  expect(niceTicks(0.013, 0.087, 4)).toEqual([0.02, 0.04, 0.06, 0.08]);
  expect(niceTicks(3, 3, 4)).toEqual([3]);
  fc.assert(
    fc.property(
      fc.double({ min: -1e6, max: 1e6, noNaN: true }),
      fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
      (low, span) => {
        const ticks = niceTicks(low, low + span, 5);
        const slack = 1e-6 * (Math.abs(low) + span);
        for (const t of ticks) expect(t >= low - slack && t <= low + span + slack).toBe(true);
        expect(ticks.length).toBeLessThanOrEqual(7);
      },
    ),
  );
});

test('logarithmic ticks stay readable', () => {
  expect(logTicks(1, 100)).toEqual([1, 2, 5, 10, 20, 50, 100]);
  expect(logTicks(0.1, 10_000)).toEqual([0.1, 1, 10, 100, 1000, 10_000]);
});

test('scales map the ends of the range to the ends of the length', () => {
  const linear = linearScale(10, 20, 100, 0);
  expect([linear.at(10), linear.at(15), linear.at(20)]).toEqual([100, 50, 0]);
  const log = logScale(1, 100, 0, 200);
  expect(log.at(10)).toBeCloseTo(100, 9);
});
