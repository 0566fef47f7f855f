import type { Segment } from './segment.js';

/** Numbers per piece in a packed list: from x/y, to x/y, centre x/y, radius, signed sweep (0 marks a line). */
export const STRIDE = 8;

/** Lines and arcs packed as plain numbers: the working form of every hot loop here. Grows as needed, reusable. */
export class Pieces {
  data: Float64Array;
  count = 0;

  constructor(capacity: number) {
    this.data = new Float64Array(Math.max(1, capacity) * STRIDE);
  }

  clear(capacity: number): void {
    this.count = 0;
    if (this.data.length < capacity * STRIDE) this.data = new Float64Array(capacity * 2 * STRIDE);
  }

  push(fx: number, fy: number, tx: number, ty: number, cx: number, cy: number, r: number, sweep: number): number {
    const k = this.count * STRIDE;
    if (k + STRIDE > this.data.length) {
      const grown = new Float64Array(this.data.length * 2);
      grown.set(this.data);
      this.data = grown;
    }
    const d = this.data;
    d[k] = fx;
    d[k + 1] = fy;
    d[k + 2] = tx;
    d[k + 3] = ty;
    d[k + 4] = cx;
    d[k + 5] = cy;
    d[k + 6] = r;
    d[k + 7] = sweep;
    return this.count++;
  }

  pushSegment(s: Segment): number {
    return s.kind === 'line'
      ? this.push(s.from.x, s.from.y, s.to.x, s.to.y, 0, 0, 0, 0)
      : this.push(s.from.x, s.from.y, s.to.x, s.to.y, s.centre.x, s.centre.y, s.radiusMm, s.sweepRad);
  }
}

export function packSegments(segments: readonly Segment[]): Pieces {
  const pieces = new Pieces(segments.length);
  for (const s of segments) pieces.pushSegment(s);
  return pieces;
}

/**
 * Angle from direction f to direction t going the way of `side` (+1 counter-clockwise), 0 to half a turn; rounding
 * beyond either end is clipped to it.
 */
export function sweepBetween(fx: number, fy: number, tx: number, ty: number, side: number): number {
  const angle = Math.atan2(side * (fx * ty - fy * tx), fx * tx + fy * ty);
  if (angle >= 0) return angle;
  return fx * tx + fy * ty < 0 ? Math.PI : 0;
}

/** Squared distance from a point to piece `i`, mm². */
export function distanceSquared(d: Float64Array, i: number, x: number, y: number): number {
  const k = i * STRIDE;
  const fx = d[k]!;
  const fy = d[k + 1]!;
  const tx = d[k + 2]!;
  const ty = d[k + 3]!;
  const sweep = d[k + 7]!;
  if (sweep === 0) {
    const ux = tx - fx;
    const uy = ty - fy;
    const wx = x - fx;
    const wy = y - fy;
    const along = wx * ux + wy * uy;
    if (along <= 0) return wx * wx + wy * wy;
    const squared = ux * ux + uy * uy;
    if (along >= squared) return (x - tx) * (x - tx) + (y - ty) * (y - ty);
    const across = wx * uy - wy * ux;
    return (across * across) / squared;
  }
  const cx = d[k + 4]!;
  const cy = d[k + 5]!;
  const px = x - cx;
  const py = y - cy;
  const side = sweep > 0 ? 1 : -1;
  const afterFrom = side * ((fx - cx) * py - (fy - cy) * px);
  const beforeTo = side * (px * (ty - cy) - py * (tx - cx));
  if (afterFrom >= 0 && beforeTo >= 0) {
    const gap = Math.sqrt(px * px + py * py) - d[k + 6]!;
    return gap * gap;
  }
  const toFrom = (x - fx) * (x - fx) + (y - fy) * (y - fy);
  const toTo = (x - tx) * (x - tx) + (y - ty) * (y - ty);
  return toFrom < toTo ? toFrom : toTo;
}

/** Writes the piece's box to out[at..at+3] as minX, minY, maxX, maxY. */
export function writeBox(d: Float64Array, i: number, out: Float64Array, at: number): void {
  const k = i * STRIDE;
  const fx = d[k]!;
  const fy = d[k + 1]!;
  const tx = d[k + 2]!;
  const ty = d[k + 3]!;
  let minX = fx < tx ? fx : tx;
  let maxX = fx < tx ? tx : fx;
  let minY = fy < ty ? fy : ty;
  let maxY = fy < ty ? ty : fy;
  const sweep = d[k + 7]!;
  if (sweep !== 0) {
    const cx = d[k + 4]!;
    const cy = d[k + 5]!;
    const r = d[k + 6]!;
    // Walk counter-clockwise: from a to b. An axis direction is covered when it lies between the two.
    const ax = (sweep > 0 ? fx : tx) - cx;
    const ay = (sweep > 0 ? fy : ty) - cy;
    const bx = (sweep > 0 ? tx : fx) - cx;
    const by = (sweep > 0 ? ty : fy) - cy;
    if (ay <= 0 && by >= 0) maxX = Math.max(maxX, cx + r);
    if (ay >= 0 && by <= 0) minX = Math.min(minX, cx - r);
    if (ax >= 0 && bx <= 0) maxY = Math.max(maxY, cy + r);
    if (ax <= 0 && bx >= 0) minY = Math.min(minY, cy - r);
  }
  out[at] = minX;
  out[at + 1] = minY;
  out[at + 2] = maxX;
  out[at + 3] = maxY;
}

/** The point at the middle of the part of piece `i` between two points on it, written to out[0], out[1]. */
export function writeMiddle(
  d: Float64Array,
  i: number,
  fx: number,
  fy: number,
  tx: number,
  ty: number,
  out: Float64Array,
): void {
  const k = i * STRIDE;
  const sweep = d[k + 7]!;
  if (sweep === 0) {
    out[0] = (fx + tx) / 2;
    out[1] = (fy + ty) / 2;
    return;
  }
  const cx = d[k + 4]!;
  const cy = d[k + 5]!;
  const r = d[k + 6]!;
  const ax = fx - cx;
  const ay = fy - cy;
  let mx = ax + tx - cx;
  let my = ay + ty - cy;
  let length = Math.sqrt(mx * mx + my * my);
  // Near half a turn the sum of the two radii has no direction left: quarter turn from the start instead.
  if (length < 0.02 * r) {
    mx = sweep > 0 ? -ay : ay;
    my = sweep > 0 ? ax : -ax;
    length = Math.sqrt(mx * mx + my * my);
  }
  out[0] = cx + (mx * r) / length;
  out[1] = cy + (my * r) / length;
}
