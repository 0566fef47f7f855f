import { distanceMm, type Point } from '@gapwright/geometry';

/** How a spline through points begins and ends. Tangents give the direction only; null leaves the end straight. */
export interface FitEnds {
  readonly start: Point | null;
  readonly end: Point | null;
  readonly isClosed: boolean;
}

/**
 * The twice continuously differentiable cubic spline through the points, with chord length as parameter, as a
 * B-spline of degree 3. Equal neighbours count once. Null for fewer than two different points.
 */
export function splineThrough(
  points: readonly Point[],
  ends: FitEnds,
): { knots: number[]; controlPoints: Point[] } | null {
  const path = points.filter((p, i) => i === 0 || p.x !== points[i - 1]!.x || p.y !== points[i - 1]!.y);
  const first = path[0];
  const last = path.at(-1);
  if (first === undefined || last === undefined || path.length < 2) return null;
  if (ends.isClosed && (first.x !== last.x || first.y !== last.y)) path.push(first);
  const at = [0];
  for (let i = 1; i < path.length; i++) at.push(at[i - 1]! + distanceMm(path[i - 1]!, path[i]!));
  const isPeriodic = ends.isClosed && ends.start === null && ends.end === null && path.length > 3;
  const solve = isPeriodic ? periodicSlopes : openSlopes;
  const slopesX = solve(
    at,
    path.map((p) => p.x),
    unit(ends.start)?.x,
    unit(ends.end)?.x,
  );
  const slopesY = solve(
    at,
    path.map((p) => p.y),
    unit(ends.start)?.y,
    unit(ends.end)?.y,
  );
  return controlPolygon(at, path, slopesX, slopesY);
}

/** With chord length as parameter a curve runs at about unit speed, so end directions are taken with length 1. */
function unit(v: Point | null): Point | undefined {
  if (v === null) return undefined;
  const size = Math.sqrt(v.x * v.x + v.y * v.y);
  return { x: v.x / size, y: v.y / size };
}

/** Slopes at the points from continuity of the second derivative; natural ends where no slope is given. */
function openSlopes(at: readonly number[], values: readonly number[], start?: number, end?: number): number[] {
  const n = values.length;
  const below = new Array<number>(n).fill(0);
  const middle = new Array<number>(n).fill(1);
  const above = new Array<number>(n).fill(0);
  const right = new Array<number>(n).fill(0);
  const rate = (i: number): number => (values[i + 1]! - values[i]!) / (at[i + 1]! - at[i]!);
  if (start !== undefined) right[0] = start;
  else {
    middle[0] = 2;
    above[0] = 1;
    right[0] = 3 * rate(0);
  }
  if (end !== undefined) right[n - 1] = end;
  else {
    middle[n - 1] = 2;
    below[n - 1] = 1;
    right[n - 1] = 3 * rate(n - 2);
  }
  for (let i = 1; i < n - 1; i++) {
    const before = 1 / (at[i]! - at[i - 1]!);
    const after = 1 / (at[i + 1]! - at[i]!);
    below[i] = before;
    middle[i] = 2 * (before + after);
    above[i] = after;
    right[i] = 3 * (rate(i - 1) * before + rate(i) * after);
  }
  return tridiagonal(below, middle, above, right);
}

/** As `openSlopes`, with the last point joined smoothly to the first (Sherman-Morrison on the two corner entries). */
function periodicSlopes(at: readonly number[], values: readonly number[]): number[] {
  const n = values.length - 1;
  const step = (i: number): number => 1 / (at[i + 1]! - at[i]!);
  const rate = (i: number): number => (values[i + 1]! - values[i]!) * step(i);
  const below: number[] = [];
  const middle: number[] = [];
  const above: number[] = [];
  const right: number[] = [];
  for (let i = 0; i < n; i++) {
    const j = i === 0 ? n - 1 : i - 1;
    below.push(step(j));
    middle.push(2 * (step(j) + step(i)));
    above.push(step(i));
    right.push(3 * (rate(j) * step(j) + rate(i) * step(i)));
  }
  const corner = step(n - 1);
  const shift = -middle[0]!;
  const u = new Array<number>(n).fill(0);
  u[0] = shift;
  u[n - 1] = corner;
  middle[0] = middle[0]! - shift;
  middle[n - 1] = middle[n - 1]! - (corner * corner) / shift;
  const y = tridiagonal(below, [...middle], above, right);
  const z = tridiagonal(below, [...middle], above, u);
  const v = corner / shift;
  const factor = (y[0]! + v * y[n - 1]!) / (1 + z[0]! + v * z[n - 1]!);
  const slopes = y.map((value, i) => value - factor * z[i]!);
  return [...slopes, slopes[0]!];
}

/** Solves a diagonally dominant tridiagonal system; `middle` and `right` are used up. */
function tridiagonal(below: readonly number[], middle: number[], above: readonly number[], right: number[]): number[] {
  const n = right.length;
  const out = [...right];
  for (let i = 1; i < n; i++) {
    const factor = below[i]! / middle[i - 1]!;
    middle[i] = middle[i]! - factor * above[i - 1]!;
    out[i] = out[i]! - factor * out[i - 1]!;
  }
  out[n - 1] = out[n - 1]! / middle[n - 1]!;
  for (let i = n - 2; i >= 0; i--) out[i] = (out[i]! - above[i]! * out[i + 1]!) / middle[i]!;
  return out;
}

/** B-spline form of piecewise cubics given by values and slopes: control point i is the blossom at knots i+1 to i+3. */
function controlPolygon(
  at: readonly number[],
  path: readonly Point[],
  slopesX: readonly number[],
  slopesY: readonly number[],
): { knots: number[]; controlPoints: Point[] } {
  const spans = at.length - 1;
  const knots = [at[0]!, at[0]!, at[0]!, ...at, at[spans]!, at[spans]!, at[spans]!];
  const controlPoints: Point[] = [];
  for (let i = 0; i < spans + 3; i++) {
    const span = Math.min(spans - 1, Math.max(0, i - 1));
    const h = at[span + 1]! - at[span]!;
    const a = path[span]!;
    const b = path[span + 1]!;
    const p = [
      a,
      along(a, slopesX[span]!, slopesY[span]!, h / 3),
      along(b, slopesX[span + 1]!, slopesY[span + 1]!, -h / 3),
      b,
    ];
    for (let level = 1; level <= 3; level++) {
      const t = (knots[i + level]! - at[span]!) / h;
      for (let k = 0; k <= 3 - level; k++) p[k] = between(p[k]!, p[k + 1]!, t);
    }
    controlPoints.push(p[0]!);
  }
  return { knots, controlPoints };
}

function along(p: Point, dx: number, dy: number, t: number): Point {
  return { x: p.x + dx * t, y: p.y + dy * t };
}

function between(a: Point, b: Point, t: number): Point {
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
}
