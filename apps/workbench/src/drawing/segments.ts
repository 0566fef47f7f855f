import type { Point } from '@gapwright/geometry';
import type { NUMBERS_PER_SEGMENT, PackedPaths } from '@gapwright/job';

/** Numbers per packed segment; bound to the contract's own constant by its type, without loading the engines. */
export const STRIDE: typeof NUMBERS_PER_SEGMENT = 8;

/** Offsets within one packed segment. */
export const FROM_Y = 1;
export const TO_X = 2;
export const TO_Y = 3;
export const CENTRE_X = 4;
export const CENTRE_Y = 5;
export const RADIUS = 6;
export const SWEEP = 7;

export function segmentCount(paths: PackedPaths): number {
  return paths.values.length / STRIDE;
}

/** The path that segment `segment` belongs to. */
export function pathOfSegment(paths: PackedPaths, segment: number): number {
  let low = 0;
  let high = paths.starts.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (paths.starts[middle]! <= segment) low = middle;
    else high = middle;
  }
  return low;
}

/** Point of a packed segment at share `t` of its length. `at` is the index of its first number. */
export function pointOn(values: Float64Array, at: number, t: number): Point {
  const fromX = values[at]!;
  const fromY = values[at + FROM_Y]!;
  if (values[at + RADIUS] === 0) {
    return { x: fromX + (values[at + TO_X]! - fromX) * t, y: fromY + (values[at + TO_Y]! - fromY) * t };
  }
  const cx = values[at + CENTRE_X]!;
  const cy = values[at + CENTRE_Y]!;
  const angle = values[at + SWEEP]! * t;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const rx = fromX - cx;
  const ry = fromY - cy;
  return { x: cx + rx * cos - ry * sin, y: cy + rx * sin + ry * cos };
}

export function lengthMm(values: Float64Array, at: number): number {
  const radius = values[at + RADIUS]!;
  if (radius !== 0) return radius * Math.abs(values[at + SWEEP]!);
  const dx = values[at + TO_X]! - values[at]!;
  const dy = values[at + TO_Y]! - values[at + FROM_Y]!;
  return Math.sqrt(dx * dx + dy * dy);
}

/** True when the direction from the arc's centre to (x, y) lies within its sweep (of at most a full turn). */
export function isInSweep(values: Float64Array, at: number, x: number, y: number): boolean {
  const cx = values[at + CENTRE_X]!;
  const cy = values[at + CENTRE_Y]!;
  const sweep = values[at + SWEEP]!;
  const start = Math.atan2(values[at + FROM_Y]! - cy, values[at]! - cx);
  let turned = (Math.atan2(y - cy, x - cx) - start) * Math.sign(sweep);
  const turn = 2 * Math.PI;
  turned -= Math.floor(turned / turn) * turn;
  return turned <= Math.abs(sweep);
}

/** The box around a packed segment, into `out` as minX, minY, maxX, maxY; no allocation. */
export function segmentBoxInto(values: Float64Array, at: number, out: Float64Array, outAt: number): void {
  const fx = values[at]!;
  const fy = values[at + FROM_Y]!;
  const tx = values[at + TO_X]!;
  const ty = values[at + TO_Y]!;
  let minX = fx < tx ? fx : tx;
  let maxX = fx < tx ? tx : fx;
  let minY = fy < ty ? fy : ty;
  let maxY = fy < ty ? ty : fy;
  const r = values[at + RADIUS]!;
  if (r !== 0) {
    const cx = values[at + CENTRE_X]!;
    const cy = values[at + CENTRE_Y]!;
    if (isInSweep(values, at, cx + r, cy)) maxX = cx + r;
    if (isInSweep(values, at, cx - r, cy)) minX = cx - r;
    if (isInSweep(values, at, cx, cy + r)) maxY = cy + r;
    if (isInSweep(values, at, cx, cy - r)) minY = cy - r;
  }
  out[outAt] = minX;
  out[outAt + 1] = minY;
  out[outAt + 2] = maxX;
  out[outAt + 3] = maxY;
}

/** Boxes of all paths, four numbers each (minX, minY, maxX, maxY). A path without segments has an empty (inverted) box. */
export function pathBoxes(paths: PackedPaths): Float64Array {
  const count = paths.starts.length - 1;
  const boxes = new Float64Array(count * 4);
  const one = new Float64Array(4);
  for (let p = 0; p < count; p++) {
    let minX = Number.POSITIVE_INFINITY;
    let minY = Number.POSITIVE_INFINITY;
    let maxX = Number.NEGATIVE_INFINITY;
    let maxY = Number.NEGATIVE_INFINITY;
    const end = paths.starts[p + 1]!;
    for (let s = paths.starts[p]!; s < end; s++) {
      segmentBoxInto(paths.values, s * STRIDE, one, 0);
      if (one[0]! < minX) minX = one[0]!;
      if (one[1]! < minY) minY = one[1]!;
      if (one[2]! > maxX) maxX = one[2]!;
      if (one[3]! > maxY) maxY = one[3]!;
    }
    boxes.set([minX, minY, maxX, maxY], p * 4);
  }
  return boxes;
}

/** Nearest point of a packed segment to (x, y). */
export function nearestOn(
  values: Float64Array,
  at: number,
  x: number,
  y: number,
): { readonly x: number; readonly y: number; readonly distanceMm: number } {
  const fx = values[at]!;
  const fy = values[at + FROM_Y]!;
  const tx = values[at + TO_X]!;
  const ty = values[at + TO_Y]!;
  const r = values[at + RADIUS]!;
  let px: number;
  let py: number;
  if (r === 0) {
    const dx = tx - fx;
    const dy = ty - fy;
    const squared = dx * dx + dy * dy;
    const t = squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - fx) * dx + (y - fy) * dy) / squared));
    px = fx + dx * t;
    py = fy + dy * t;
  } else {
    const cx = values[at + CENTRE_X]!;
    const cy = values[at + CENTRE_Y]!;
    const vx = x - cx;
    const vy = y - cy;
    const away = Math.sqrt(vx * vx + vy * vy);
    if (away > 0 && isInSweep(values, at, x, y)) {
      px = cx + (vx * r) / away;
      py = cy + (vy * r) / away;
    } else {
      const toFrom = (x - fx) * (x - fx) + (y - fy) * (y - fy);
      const toTo = (x - tx) * (x - tx) + (y - ty) * (y - ty);
      px = toFrom <= toTo ? fx : tx;
      py = toFrom <= toTo ? fy : ty;
    }
  }
  const dx = px - x;
  const dy = py - y;
  return { x: px, y: py, distanceMm: Math.sqrt(dx * dx + dy * dy) };
}
