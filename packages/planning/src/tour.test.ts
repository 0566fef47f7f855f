import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shortTour, tourLengthMm } from './tour.js';

const points = fc.array(
  fc.record({ x: fc.double({ min: 0, max: 100, noNaN: true }), y: fc.double({ min: 0, max: 100, noNaN: true }) }),
  { maxLength: 7 },
);
const start = { x: 0, y: 0 };

/** All orders, slow and obvious. */
function orders(n: number): number[][] {
  if (n === 0) return [[]];
  return orders(n - 1).flatMap((o) => Array.from({ length: n }, (_, k) => o.toSpliced(k, 0, n - 1)));
}

describe('tour', () => {
  it('visits every stop once and is never much longer than the best order', () => {
    fc.assert(
      fc.property(points, (stops) => {
        const tour = shortTour(stops, start);
        expect([...tour].sort((a, b) => a - b)).toEqual(stops.map((_, i) => i));
        const best = Math.min(...orders(stops.length).map((o) => tourLengthMm(o, stops, start)));
        expect(tourLengthMm(tour, stops, start)).toBeLessThanOrEqual(best * 1.5 + 1e-9);
      }),
      { numRuns: 40 },
    );
  });

  it('walks a row from end to end', () => {
    const row = [30, 10, 50, 20, 40].map((x) => ({ x, y: 0 }));
    expect(shortTour(row, start).map((i) => row[i]!.x)).toEqual([10, 20, 30, 40, 50]);
  });

  it('stays fast and complete with many stops', () => {
    const grid = Array.from({ length: 400 }, (_, i) => ({ x: (i % 20) * 5, y: Math.floor(i / 20) * 5 }));
    const tour = shortTour(grid, start);
    expect(new Set(tour).size).toBe(400);
    expect(tourLengthMm(tour, grid, start)).toBeLessThan(399 * 5 * 1.25);
  });
});
