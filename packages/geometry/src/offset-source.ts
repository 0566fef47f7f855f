import type { Contour } from './contour.js';
import { type Pieces, STRIDE, sweepBetween } from './pieces.js';
import type { ArcSegment } from './segment.js';

/** Arc ends this share of the merge length off their circle are on it: rounding of exact input. */
const ON_CIRCLE_SHARE = 1e-3;

/**
 * Packs a contour for offsetting. Segments too short to have a direction of their own are left out. An arc whose ends
 * lie off its circle, as drawings with few decimals give them, is taken through its ends round the nearest centre that
 * allows it: the curve moves by no more than the ends were off, and stays in one piece.
 */
export function packSource(c: Contour, mergeMm: number, into: Pieces): void {
  into.clear(c.segments.length);
  for (const s of c.segments) {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    if (s.kind === 'line') {
      if (dx * dx + dy * dy > mergeMm * mergeMm) into.pushSegment(s);
    } else if (s.radiusMm * Math.abs(s.sweepRad) > mergeMm) {
      into.pushSegment(s);
      if (!isOnCircle(s, mergeMm * ON_CIRCLE_SHARE)) centreArc(into.data, (into.count - 1) * STRIDE);
    }
  }
}

function isOnCircle(s: ArcSegment, on: number): boolean {
  const fx = s.from.x - s.centre.x;
  const fy = s.from.y - s.centre.y;
  const tx = s.to.x - s.centre.x;
  const ty = s.to.y - s.centre.y;
  const r = s.radiusMm;
  return Math.abs(Math.sqrt(fx * fx + fy * fy) - r) <= on && Math.abs(Math.sqrt(tx * tx + ty * ty) - r) <= on;
}

/** Moves the centre to the nearest point equally far from both ends. */
function centreArc(d: Float64Array, k: number): void {
  const ux = d[k + 2]! - d[k]!;
  const uy = d[k + 3]! - d[k + 1]!;
  const squared = ux * ux + uy * uy;
  if (squared === 0) return;
  const along = ((d[k + 4]! - (d[k]! + d[k + 2]!) / 2) * ux + (d[k + 5]! - (d[k + 1]! + d[k + 3]!) / 2) * uy) / squared;
  d[k + 4]! -= along * ux;
  d[k + 5]! -= along * uy;
  const fx = d[k]! - d[k + 4]!;
  const fy = d[k + 1]! - d[k + 5]!;
  d[k + 6] = Math.sqrt(fx * fx + fy * fy);
  const side = d[k + 7]! > 0 ? 1 : -1;
  // More than half a turn by rounding stays half a turn.
  d[k + 7] = side * sweepBetween(fx, fy, d[k + 2]! - d[k + 4]!, d[k + 3]! - d[k + 5]!, side);
}
