import { distanceMm, type Point } from '@gapwright/geometry';

/** Above this many stops the improvement only looks at near neighbours in the tour, to stay fast. */
const FULL_SEARCH_STOPS = 120;
/** How far apart in the tour two reversed ends may lie when the search is narrowed. */
const NARROW_WINDOW = 40;
/** Rounds of improvement; each round passes over the whole tour. */
const MOST_ROUNDS = 30;
/** A shorter tour must be shorter by more than this, so that rounding never makes the search go round in circles, mm. */
const LEAST_GAIN_MM = 1e-9;

/**
 * A short open tour over all stops, from the stop nearest to `start`: nearest neighbour, then 2-opt.
 * Returns indexes into `stops`; the same input always gives the same tour.
 */
export function shortTour(stops: readonly Point[], start: Point): number[] {
  const n = stops.length;
  const left = Array.from({ length: n }, (_, i) => i);
  const tour: number[] = [];
  let at = start;
  while (left.length > 0) {
    let best = 0;
    let bestMm = Number.POSITIVE_INFINITY;
    for (let k = 0; k < left.length; k++) {
      const mm = distanceMm(at, stops[left[k]!]!);
      if (mm < bestMm) {
        bestMm = mm;
        best = k;
      }
    }
    const next = left[best]!;
    left[best] = left[left.length - 1]!;
    left.pop();
    tour.push(next);
    at = stops[next]!;
  }
  improve(tour, stops, start);
  return tour;
}

/** Reverses stretches of the tour while that shortens it. The last stop is free, so its far end costs nothing. */
function improve(tour: number[], stops: readonly Point[], start: Point): void {
  const n = tour.length;
  const window = n <= FULL_SEARCH_STOPS ? n : NARROW_WINDOW;
  const pointBefore = (i: number): Point => (i === 0 ? start : stops[tour[i - 1]!]!);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    let isBetter = false;
    for (let i = 0; i < n - 1; i++) {
      for (let k = i + 1; k < Math.min(n, i + window); k++) {
        const before = pointBefore(i);
        const first = stops[tour[i]!]!;
        const last = stops[tour[k]!]!;
        const after = k + 1 < n ? stops[tour[k + 1]!]! : undefined;
        const now = distanceMm(before, first) + (after ? distanceMm(last, after) : 0);
        const then = distanceMm(before, last) + (after ? distanceMm(first, after) : 0);
        if (then < now - LEAST_GAIN_MM) {
          for (let a = i, b = k; a < b; a++, b--) [tour[a], tour[b]] = [tour[b]!, tour[a]!];
          isBetter = true;
        }
      }
    }
    if (!isBetter) return;
  }
}

/** Length of the tour from `start`, mm. */
export function tourLengthMm(tour: readonly number[], stops: readonly Point[], start: Point): number {
  let total = 0;
  let at = start;
  for (const i of tour) {
    total += distanceMm(at, stops[i]!);
    at = stops[i]!;
  }
  return total;
}
