import type { ParametricCurve } from './curve.js';
import type { Point } from './point.js';

/** One rational Bézier piece over [from, to]: control points times weight, and weights. */
export interface BezierSpan {
  readonly from: number;
  readonly to: number;
  readonly wx: Float64Array;
  readonly wy: Float64Array;
  readonly w: Float64Array;
}

export function controlPoint(s: BezierSpan, i: number): Point {
  return { x: s.wx[i]! / s.w[i]!, y: s.wy[i]! / s.w[i]! };
}

/** Points closer than this are one point when a direction is taken from them, mm (rounding of drawing coordinates). */
const COINCIDENT_MM = 1e-9;

/** Unit tangent at the start (`false`) or end (`true`) of a piece, from the first control point that differs; null for a point. */
export function endDirection(s: BezierSpan, atEnd: boolean): Point | null {
  const last = s.w.length - 1;
  const tip = controlPoint(s, atEnd ? last : 0);
  for (let k = 1; k <= last; k++) {
    const other = controlPoint(s, atEnd ? last - k : k);
    const dx = atEnd ? tip.x - other.x : other.x - tip.x;
    const dy = atEnd ? tip.y - other.y : other.y - tip.y;
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length > COINCIDENT_MM) return { x: dx / length, y: dy / length };
  }
  return null;
}

/** Several pieces, each beginning where the one before ends, as one curve. */
export function spanCurve(spans: readonly BezierSpan[]): ParametricCurve {
  const starts = Float64Array.from(spans, (s) => s.from);
  const first = spans[0]!;
  const last = spans[spans.length - 1]!;
  const find = (t: number): BezierSpan => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= t) low = middle;
      else high = middle - 1;
    }
    return spans[low]!;
  };
  return {
    range: { from: first.from, to: last.to },
    breaks: [...spans.map((s) => s.from), last.to],
    pointAt: (t) => evaluate(find(t), t).point,
    derivativeAt: (t) => evaluate(find(t), t).derivative,
  };
}

/** De Casteljau in homogeneous coordinates; the last two points give the derivative. */
function evaluate(s: BezierSpan, t: number): { point: Point; derivative: Point } {
  const u = Math.min(1, Math.max(0, (t - s.from) / (s.to - s.from)));
  const v = 1 - u;
  const degree = s.w.length - 1;
  const x = s.wx.slice();
  const y = s.wy.slice();
  const w = s.w.slice();
  for (let level = degree; level > 1; level--) {
    for (let i = 0; i < level; i++) {
      x[i] = v * x[i]! + u * x[i + 1]!;
      y[i] = v * y[i]! + u * y[i + 1]!;
      w[i] = v * w[i]! + u * w[i + 1]!;
    }
  }
  const px = v * x[0]! + u * x[1]!;
  const py = v * y[0]! + u * y[1]!;
  const pw = v * w[0]! + u * w[1]!;
  const scale = degree / (s.to - s.from);
  const point = { x: px / pw, y: py / pw };
  const dw = w[1]! - w[0]!;
  return {
    point,
    derivative: {
      x: (scale * (x[1]! - x[0]! - dw * point.x)) / pw,
      y: (scale * (y[1]! - y[0]! - dw * point.y)) / pw,
    },
  };
}
