import { problem, type Result } from '@gapwright/base';
import { type BezierSpan, spanCurve } from './bezier-spans.js';
import type { ParametricCurve } from './curve.js';
import { distanceMm, type Point } from './point.js';

/** Fit points closer than this count once, mm: rounding of drawing coordinates. */
const SAME_POINT_MM = 1e-9;

export interface FitPointOptions {
  /** Direction of travel at the first point; only the direction counts. Without it the end is natural (no curvature). */
  readonly startTangent?: Point;
  readonly endTangent?: Point;
  /** The curve runs on smoothly from the last point to the first. */
  readonly isClosed?: boolean;
}

/**
 * The cubic spline with continuous curvature through all points, chord lengths as parameter steps.
 * Stops with `GEOMETRY-SPLINE-POINT` on fewer than two different points or on numbers that are none.
 */
export function splineThroughPoints(points: readonly Point[], options: FitPointOptions = {}): Result<ParametricCurve> {
  const areNumbers = points.every((p) => Number.isFinite(p.x) && Number.isFinite(p.y));
  const p = points.filter((one, i) => i === 0 || distanceMm(one, points[i - 1]!) > SAME_POINT_MM);
  const isClosed = options.isClosed === true && p.length > 2;
  if (isClosed && distanceMm(p[0]!, p[p.length - 1]!) > SAME_POINT_MM) p.push(p[0]!);
  if (!areNumbers || p.length < 2) {
    const first = points[0];
    return {
      value: null,
      problems: [
        problem({
          code: 'GEOMETRY-SPLINE-POINT',
          severity: 'stop',
          what: areNumbers
            ? 'The spline has fewer than two different fit points'
            : 'A fit point of the spline is not a number',
          fix: 'Delete it, or export the drawing again',
          ...(areNumbers && first !== undefined && { at: { xMm: first.x, yMm: first.y } }),
        }),
      ],
    };
  }
  const h: number[] = [];
  for (let i = 1; i < p.length; i++) h.push(distanceMm(p[i - 1]!, p[i]!));
  const start = unit(options.startTangent);
  const end = unit(options.endTangent);
  const along = (axis: 'x' | 'y'): number[] => {
    const y = p.map((one) => one[axis]);
    return isClosed ? periodicSlopes(h, y) : slopes(h, y, start?.[axis], end?.[axis]);
  };
  const dx = along('x');
  const dy = along('y');
  const spans: BezierSpan[] = [];
  let t = 0;
  for (let i = 0; i < h.length; i++) {
    const third = h[i]! / 3;
    const a = p[i]!;
    const b = p[i + 1]!;
    spans.push({
      from: t,
      to: t + h[i]!,
      wx: Float64Array.of(a.x, a.x + dx[i]! * third, b.x - dx[i + 1]! * third, b.x),
      wy: Float64Array.of(a.y, a.y + dy[i]! * third, b.y - dy[i + 1]! * third, b.y),
      w: Float64Array.of(1, 1, 1, 1),
    });
    t += h[i]!;
  }
  return { value: spanCurve(spans), problems: [] };
}

function unit(v: Point | undefined): Point | undefined {
  if (v === undefined) return undefined;
  const length = Math.sqrt(v.x * v.x + v.y * v.y);
  return length > 0 && Number.isFinite(length) ? { x: v.x / length, y: v.y / length } : undefined;
}

/** Slopes of the curvature-continuous cubic through (Σh, y); an end without a given slope has no curvature. */
function slopes(h: readonly number[], y: readonly number[], start?: number, end?: number): number[] {
  const n = y.length;
  const lower = new Float64Array(n);
  const diagonal = new Float64Array(n).fill(1);
  const upper = new Float64Array(n);
  const right = new Float64Array(n);
  for (let i = 1; i < n - 1; i++) {
    lower[i] = 1 / h[i - 1]!;
    upper[i] = 1 / h[i]!;
    diagonal[i] = 2 * (lower[i]! + upper[i]!);
    right[i] = 3 * ((y[i]! - y[i - 1]!) / h[i - 1]! ** 2 + (y[i + 1]! - y[i]!) / h[i]! ** 2);
  }
  if (start !== undefined) {
    right[0] = start;
  } else {
    diagonal[0] = 2;
    upper[0] = 1;
    right[0] = (3 * (y[1]! - y[0]!)) / h[0]!;
  }
  if (end !== undefined) {
    right[n - 1] = end;
  } else {
    diagonal[n - 1] = 2;
    lower[n - 1] = 1;
    right[n - 1] = (3 * (y[n - 1]! - y[n - 2]!)) / h[n - 2]!;
  }
  return solveTridiagonal(lower, diagonal, upper, right);
}

/** Slopes of the closed curve; y's last value repeats its first. Sherman–Morrison on the cyclic system. */
function periodicSlopes(h: readonly number[], y: readonly number[]): number[] {
  const n = h.length;
  const lower = new Float64Array(n);
  const diagonal = new Float64Array(n);
  const upper = new Float64Array(n);
  const right = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const before = h[(i + n - 1) % n]!;
    const yBefore = y[(i + n - 1) % n]!;
    lower[i] = 1 / before;
    upper[i] = 1 / h[i]!;
    diagonal[i] = 2 * (lower[i]! + upper[i]!);
    right[i] = 3 * ((y[i]! - yBefore) / before ** 2 + (y[i + 1]! - y[i]!) / h[i]! ** 2);
  }
  // The corner entries: row 0 column n-1 is lower[0], row n-1 column 0 is upper[n-1].
  const gamma = -diagonal[0]!;
  const corner = new Float64Array(n);
  corner[0] = gamma;
  corner[n - 1] = upper[n - 1]!;
  const ratio = lower[0]! / gamma;
  const changed = diagonal.slice();
  changed[0] = diagonal[0]! - gamma;
  changed[n - 1] = diagonal[n - 1]! - upper[n - 1]! * ratio;
  const s = solveTridiagonal(lower, changed, upper, right);
  const z = solveTridiagonal(lower, changed, upper, corner);
  const factor = (s[0]! + ratio * s[n - 1]!) / (1 + z[0]! + ratio * z[n - 1]!);
  const out = s.map((one, i) => one - factor * z[i]!);
  out.push(out[0]!);
  return out;
}

function solveTridiagonal(
  lower: Float64Array,
  diagonal: Float64Array,
  upper: Float64Array,
  right: Float64Array,
): number[] {
  const n = right.length;
  const c = new Float64Array(n);
  const d = new Float64Array(n);
  c[0] = upper[0]! / diagonal[0]!;
  d[0] = right[0]! / diagonal[0]!;
  for (let i = 1; i < n; i++) {
    const m = diagonal[i]! - lower[i]! * c[i - 1]!;
    c[i] = upper[i]! / m;
    d[i] = (right[i]! - lower[i]! * d[i - 1]!) / m;
  }
  for (let i = n - 2; i >= 0; i--) d[i] = d[i]! - c[i]! * d[i + 1]!;
  return Array.from(d);
}
