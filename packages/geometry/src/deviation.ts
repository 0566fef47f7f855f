import type { ParametricCurve } from './curve.js';
import { distanceMm, type Point } from './point.js';
import { nearestPoint, type Segment } from './segment.js';

/** Samples per part of a span before the maxima are followed; a cubic span's deviation has at most a handful of humps. */
const SAMPLES = 8;

/**
 * Largest distance from the curve over [from, to] to the segments, mm. Each span of the curve is sampled and every local
 * maximum followed to its top. Stops early when `limitMm` is exceeded (`isWithin` false, `largestMm` then a lower bound);
 * a limit of 0 looks for the largest without stopping.
 */
export function deviationMm(
  curve: ParametricCurve,
  segments: readonly Segment[],
  from: number,
  to: number,
  limitMm: number,
): { readonly isWithin: boolean; readonly largestMm: number } {
  const limit = limitMm > 0 ? limitMm : Number.POSITIVE_INFINITY;
  const at = (t: number): number => distanceToMm(segments, curve.pointAt(t));
  let largest = 0;
  // A coarse look first: most refused pieces fail here.
  for (let k = 1; k < 4; k++) {
    largest = Math.max(largest, at(from + ((to - from) * k) / 4));
    if (largest > limit) return { isWithin: false, largestMm: largest };
  }
  const marks = [from, ...breaksBetween(curve.breaks, from, to), to];
  let t0 = from;
  let t1 = from;
  let f0 = 0;
  let f1 = at(from);
  for (let m = 0; m < marks.length - 1; m++) {
    const low = marks[m]!;
    const high = marks[m + 1]!;
    for (let k = 1; k <= SAMPLES; k++) {
      const t2 = low + ((high - low) * k) / SAMPLES;
      const f2 = at(t2);
      if (f1 >= f0 && f1 >= f2) largest = Math.max(largest, peak(at, t0, t1, t2, f1));
      largest = Math.max(largest, f2);
      if (largest > limit) return { isWithin: false, largestMm: largest };
      t0 = t1;
      f0 = f1;
      t1 = t2;
      f1 = f2;
    }
  }
  return { isWithin: true, largestMm: largest };
}

/** The breaks strictly inside (from, to), found without walking all of them. */
function breaksBetween(breaks: readonly number[], from: number, to: number): number[] {
  let low = 0;
  let high = breaks.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (breaks[middle]! <= from) low = middle + 1;
    else high = middle;
  }
  const out: number[] = [];
  for (let i = low; i < breaks.length && breaks[i]! < to; i++) out.push(breaks[i]!);
  return out;
}

/** Golden-section climb to the top of a hump between t0 and t2; eight steps narrow it to a fiftieth, f to about 1e-4 of it. */
function peak(at: (t: number) => number, t0: number, t1: number, t2: number, f1: number): number {
  const golden = 0.3819660112501051;
  let low = t0;
  let high = t2;
  let middle = t1;
  let top = f1;
  for (let k = 0; k < 8; k++) {
    const isRight = high - middle > middle - low;
    const t = isRight ? middle + golden * (high - middle) : middle - golden * (middle - low);
    const f = at(t);
    if (f >= top) {
      if (isRight) low = middle;
      else high = middle;
      middle = t;
      top = f;
    } else if (isRight) {
      high = t;
    } else {
      low = t;
    }
  }
  return top;
}

function distanceToMm(segments: readonly Segment[], p: Point): number {
  let best = Number.POSITIVE_INFINITY;
  for (const s of segments) {
    const d = s.kind === 'line' ? lineDistanceMm(s.from, s.to, p) : nearestPoint(s, p).distanceMm;
    if (d < best) best = d;
  }
  return best;
}

/** Distance to a line segment by the cross product: exact to rounding even for points very near the line. */
function lineDistanceMm(a: Point, b: Point, p: Point): number {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const squared = dx * dx + dy * dy;
  const along = (p.x - a.x) * dx + (p.y - a.y) * dy;
  if (squared === 0 || along <= 0) return distanceMm(a, p);
  if (along >= squared) return distanceMm(b, p);
  return Math.abs(dx * (p.y - a.y) - dy * (p.x - a.x)) / Math.sqrt(squared);
}
