import { type Place, type Problem, problem, type Result } from '@gapwright/base';
import { type BezierSpan, controlPoint, endDirection, spanCurve } from './bezier-spans.js';
import type { ParametricCurve } from './curve.js';
import { distanceMm, type Point } from './point.js';

/** Tangent break that parts a spline into pieces, rad: far below any drawn corner, above rounding of control points. */
const CORNER_RAD = 1e-5;
/** Pieces of a spline whose ends lie further apart than this do not meet, mm: ten times the rounding of coordinates. */
const MEET_MM = 1e-8;

/**
 * A spline (polynomial or rational) as smooth pieces, cut where its tangent breaks. Valid over
 * `knots[degree] … knots[points]`, clamped or not.
 *
 * A closed spline may be given unrolled (points + degree + 1 knots) or, with `isPeriodic`, with one knot more than
 * points; the first `degree` points then follow again.
 *
 * Stops: `GEOMETRY-SPLINE-DEGREE`, `-COUNT`, `-KNOTS`, `-WEIGHT`, `-POINT` (zero length). Warns: `-GAP` when the spline jumps.
 */
export function nurbsCurve(
  degree: number,
  knots: readonly number[],
  controlPoints: readonly Point[],
  weights?: readonly number[],
  options: { readonly isPeriodic?: boolean } = {},
): Result<ParametricCurve[]> {
  const place: Place | undefined = controlPoints[0] && { xMm: controlPoints[0].x, yMm: controlPoints[0].y };
  const stop = (code: string, what: string, fix: string): Result<ParametricCurve[]> => ({
    value: null,
    problems: [problem({ code, severity: 'stop', what, fix, ...(place && { at: place }) })],
  });
  const redraw = 'Export the drawing again, or ask for the curve as arcs';
  if (!Number.isInteger(degree) || degree < 1 || degree > 25) {
    return stop('GEOMETRY-SPLINE-DEGREE', `A spline of degree ${degree} cannot be drawn (1 to 25 can)`, redraw);
  }
  if (weights !== undefined && weights.length > 0 && weights.length !== controlPoints.length) {
    return stop(
      'GEOMETRY-SPLINE-COUNT',
      `The spline has ${controlPoints.length} control points but ${weights.length} weights`,
      redraw,
    );
  }
  const w = weights !== undefined && weights.length > 0 ? [...weights] : controlPoints.map(() => 1);
  const badWeight = w.findIndex((one) => !(one > 0) || !Number.isFinite(one));
  if (badWeight >= 0) {
    return stop(
      'GEOMETRY-SPLINE-WEIGHT',
      `Weight ${badWeight + 1} of the spline is ${w[badWeight]}, not above zero`,
      redraw,
    );
  }
  if (!controlPoints.every((p) => Number.isFinite(p.x) && Number.isFinite(p.y))) {
    return stop('GEOMETRY-SPLINE-POINT', 'A control point of the spline is not a number', redraw);
  }
  const points = [...controlPoints];
  const u = [...knots];
  if (options.isPeriodic === true && u.length === points.length + 1) unroll(degree, u, points, w);
  if (points.length < degree + 1 || u.length !== points.length + degree + 1) {
    return stop(
      'GEOMETRY-SPLINE-COUNT',
      `A spline of degree ${degree} with ${points.length} control points needs ${points.length + degree + 1} knots` +
        ` and at least ${degree + 1} points, but has ${u.length} knots`,
      redraw,
    );
  }
  for (let i = 0; i < u.length; i++) {
    if (!Number.isFinite(u[i]!) || (i > 0 && u[i]! < u[i - 1]!)) {
      return stop('GEOMETRY-SPLINE-KNOTS', `Knot ${i + 1} of the spline (${u[i]}) is not in ascending order`, redraw);
    }
  }
  const spans = bezierSpans(degree, u, points, w);
  if (spans.length === 0) return stop('GEOMETRY-SPLINE-POINT', 'The spline has no length', 'Delete it');
  return splitAtCorners(spans);
}

/** Turns the periodic form into the plain one: the period's knot steps continue on both sides. */
function unroll(degree: number, knots: number[], points: Point[], weights: number[]): void {
  const count = points.length;
  const period = knots[count]! - knots[0]!;
  const base = knots.slice();
  for (let k = 1; k <= degree; k++) {
    knots.unshift(base[count - (k % count)]! - period * (1 + Math.floor((k - 1) / count)));
    knots.push(base[k % count]! + period * (1 + Math.floor(k / count)));
  }
  for (let k = 0; k < degree; k++) {
    points.push(points[k]!);
    weights.push(weights[k]!);
  }
}

/** Knot steps below this part of the whole range are no span of their own (rounded multiple knots). */
const SPAN_PART = 1e-12;

/** Bézier control points of every span by blossoming: point i is the blossom at (a … a, b … b) with i times b. */
function bezierSpans(
  degree: number,
  u: readonly number[],
  points: readonly Point[],
  w: readonly number[],
): BezierSpan[] {
  const out: BezierSpan[] = [];
  const smallest = (u[points.length]! - u[degree]!) * SPAN_PART;
  for (let k = degree; k < points.length; k++) {
    const a = u[k]!;
    const b = u[k + 1]!;
    if (!(b - a > smallest)) continue;
    const span = {
      from: a,
      to: b,
      wx: new Float64Array(degree + 1),
      wy: new Float64Array(degree + 1),
      w: new Float64Array(degree + 1),
    };
    for (let i = 0; i <= degree; i++) {
      const at = (level: number): number => (level <= i ? b : a);
      span.wx[i] = blossom(degree, u, k, at, (j) => points[j]!.x * w[j]!);
      span.wy[i] = blossom(degree, u, k, at, (j) => points[j]!.y * w[j]!);
      span.w[i] = blossom(degree, u, k, at, (j) => w[j]!);
    }
    if (lengthBound(span) > 0) out.push(span);
  }
  return out;
}

/** De Boor's scheme with its own parameter at each level. */
function blossom(
  degree: number,
  u: readonly number[],
  k: number,
  at: (level: number) => number,
  value: (j: number) => number,
): number {
  const d: number[] = [];
  for (let j = 0; j <= degree; j++) d.push(value(k - degree + j));
  for (let level = 1; level <= degree; level++) {
    const t = at(level);
    for (let j = degree; j >= level; j--) {
      const low = u[k - degree + j]!;
      const high = u[k + 1 + j - level]!;
      const part = (t - low) / (high - low);
      d[j] = (1 - part) * d[j - 1]! + part * d[j]!;
    }
  }
  return d[degree]!;
}

/** Length of the control polygon: zero only for a point. */
function lengthBound(s: BezierSpan): number {
  let total = 0;
  for (let i = 1; i < s.w.length; i++) total += distanceMm(controlPoint(s, i - 1), controlPoint(s, i));
  return total < MEET_MM ? 0 : total;
}

/** Groups consecutive spans into smooth curves. */
function splitAtCorners(spans: readonly BezierSpan[]): Result<ParametricCurve[]> {
  const groups: BezierSpan[][] = [];
  const problems: Problem[] = [];
  let before: BezierSpan | undefined;
  for (const span of spans) {
    const group = groups[groups.length - 1];
    if (before === undefined || group === undefined) {
      groups.push([span]);
    } else {
      const end = controlPoint(before, before.w.length - 1);
      const start = controlPoint(span, 0);
      const gap = distanceMm(end, start);
      if (gap > MEET_MM) {
        problems.push(
          problem({
            code: 'GEOMETRY-SPLINE-GAP',
            severity: 'warn',
            what: `The spline jumps by ${gap.toPrecision(3)} mm at (${end.x.toFixed(3)}, ${end.y.toFixed(3)})`,
            fix: 'Check the curve; it is read as separate pieces',
            at: { xMm: end.x, yMm: end.y },
          }),
        );
      }
      // A span dropped for having no length leaves a hole in the parameter: a new curve starts after it.
      if (gap > MEET_MM || before.to !== span.from || turnRad(before, span) > CORNER_RAD) groups.push([span]);
      else group.push(span);
    }
    before = span;
  }
  return { value: groups.map(spanCurve), problems };
}

function turnRad(before: BezierSpan, after: BezierSpan): number {
  const a = endDirection(before, true);
  const b = endDirection(after, false);
  if (a === null || b === null) return 0;
  return Math.abs(Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y));
}
