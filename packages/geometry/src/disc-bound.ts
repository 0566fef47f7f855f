import type { Point } from './point.js';
import type { Segment } from './segment.js';

/** A segment near a cell centre with its nearest point. */
export interface Near {
  readonly index: number;
  readonly segment: Segment;
  readonly point: Point;
  readonly distanceMm: number;
}

/** Distance to one segment seen from a cell centre: at most d + g·Δ + bend for a step Δ within the cell. */
interface Slope {
  readonly d: number;
  readonly gx: number;
  readonly gy: number;
  readonly bend: number;
}

/** How many of the nearest segments are combined; more would tighten the bound no further in practice. */
const COMBINED = 10;

/**
 * Upper bound for the smallest of the distances anywhere in the square around `p` that the contour does not enter, and a
 * point of the square where it may nearly be reached.
 *
 * Any weighted mean of distances is at least the smallest one, so with weights that cancel the slopes the bound does not
 * grow with the size of the square: two walls across from each other or three around the centre are enough.
 */
export function boundDisc(p: Point, half: number, near: readonly Near[]): { mostMm: number; try: Point | null } {
  const reach = half * Math.SQRT2;
  const slopes = [...near]
    .sort((a, b) => a.distanceMm - b.distanceMm)
    .slice(0, COMBINED)
    .map((n) => slopeOf(p, half, n));
  const first = slopes[0]!;
  let mostMm = first.d + reach;
  let step: Point | null = { x: first.gx * half, y: first.gy * half };
  for (let j = 1; j < slopes.length; j++) {
    const b = slopes[j]!;
    const pair = pairBound(first, b, reach);
    if (pair < mostMm) {
      mostMm = pair;
      step = levelPair(first, b);
    }
    for (let k = j + 1; k < slopes.length; k++) {
      const triple = tripleBound(first, b, slopes[k]!);
      if (triple < mostMm) {
        mostMm = triple;
        step = levelTriple(first, b, slopes[k]!);
      }
    }
  }
  if (step === null) return { mostMm, try: null };
  const clamp = (v: number): number => Math.max(-half, Math.min(half, v));
  return { mostMm, try: { x: p.x + clamp(step.x), y: p.y + clamp(step.y) } };
}

function slopeOf(p: Point, half: number, n: Near): Slope {
  const d = n.distanceMm;
  const gx = (p.x - n.point.x) / d;
  const gy = (p.y - n.point.y) / d;
  // Distance to the fixed nearest point q: |p + Δ - q| <= d + g·Δ + |Δ|²/(2d), and |Δ|² <= 2·half².
  return { d, gx, gy, bend: isLevel(p, half, n.segment) ? 0 : (half * half) / d };
}

/** True when the distance over the whole square never exceeds its tangent plane. */
function isLevel(p: Point, half: number, s: Segment): boolean {
  if (s.kind === 'line') {
    // Linear as long as every point of the square has its foot on the line.
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const along = (p.x - s.from.x) * dx + (p.y - s.from.y) * dy;
    const spread = half * (Math.abs(dx) + Math.abs(dy));
    return along >= spread && along <= dx * dx + dy * dy - spread;
  }
  // Seen from inside its circle an arc's distance r - |p - centre| is concave, where the foot stays on the arc.
  const x = p.x - s.centre.x;
  const y = p.y - s.centre.y;
  if (Math.sqrt(x * x + y * y) + half * Math.SQRT2 >= s.radiusMm) return false;
  const side = s.sweepRad > 0 ? 1 : -1;
  const isPast = (ax: number, ay: number): boolean => side * (ax * y - ay * x) >= half * (Math.abs(ax) + Math.abs(ay));
  return isPast(s.from.x - s.centre.x, s.from.y - s.centre.y) && isPast(-(s.to.x - s.centre.x), -(s.to.y - s.centre.y));
}

/** Bound from the weights of two distances that leave the least slope. */
function pairBound(a: Slope, b: Slope, reach: number): number {
  const dx = a.gx - b.gx;
  const dy = a.gy - b.gy;
  const squared = dx * dx + dy * dy;
  if (squared === 0) return Number.POSITIVE_INFINITY;
  const weight = Math.min(1, Math.max(0, (a.gx * dx + a.gy * dy) / squared));
  const gx = a.gx - weight * dx;
  const gy = a.gy - weight * dy;
  const bend = (1 - weight) * a.bend + weight * b.bend;
  return (1 - weight) * a.d + weight * b.d + Math.sqrt(gx * gx + gy * gy) * reach + bend;
}

/** Bound from three distances whose slopes cancel with weights of 0 to 1; infinite when they cannot. */
function tripleBound(a: Slope, b: Slope, c: Slope): number {
  const wa = b.gx * c.gy - b.gy * c.gx;
  const wb = c.gx * a.gy - c.gy * a.gx;
  const wc = a.gx * b.gy - a.gy * b.gx;
  const sum = wa + wb + wc;
  if (sum === 0 || wa * sum < 0 || wb * sum < 0 || wc * sum < 0) return Number.POSITIVE_INFINITY;
  return (wa * (a.d + a.bend) + wb * (b.d + b.bend) + wc * (c.d + c.bend)) / sum;
}

/** Shortest step that makes two distances equal. */
function levelPair(a: Slope, b: Slope): Point {
  const dx = a.gx - b.gx;
  const dy = a.gy - b.gy;
  const k = (b.d - a.d) / (dx * dx + dy * dy);
  return { x: dx * k, y: dy * k };
}

/** Step that makes three distances equal; null when their slopes are in line. */
function levelTriple(a: Slope, b: Slope, c: Slope): Point | null {
  const ux = a.gx - b.gx;
  const uy = a.gy - b.gy;
  const vx = a.gx - c.gx;
  const vy = a.gy - c.gy;
  const cross = ux * vy - uy * vx;
  if (Math.abs(cross) < 1e-12) return null;
  const p = b.d - a.d;
  const q = c.d - a.d;
  return { x: (p * vy - q * uy) / cross, y: (ux * q - vx * p) / cross };
}
