import { distanceMm, type Point } from './point.js';
import { type Segment, segmentLengthMm } from './segment.js';

/**
 * Two arcs (or lines) from `a` to `b` that leave along `ta`, arrive along `tb` (unit vectors) and meet without a corner.
 * Both legs from the ends to the joint's tangent have equal length. Empty when no such pair bends less than half a turn.
 */
export function biarc(a: Point, ta: Point, b: Point, tb: Point): Segment[] {
  const vx = b.x - a.x;
  const vy = b.y - a.y;
  const tx = ta.x + tb.x;
  const ty = ta.y + tb.y;
  const vv = vx * vx + vy * vy;
  const vt = vx * tx + vy * ty;
  const curve = 2 * (1 - (ta.x * tb.x + ta.y * tb.y));
  // Leg d solves |v - d·(ta + tb)| = 2·d, the positive root, in the form without cancellation.
  const leg = vv / (vt + Math.sqrt(Math.max(0, vt * vt + curve * vv)));
  if (!(leg > 0) || !Number.isFinite(leg)) return [];
  const joint = {
    x: (a.x + b.x + leg * (ta.x - tb.x)) / 2,
    y: (a.y + b.y + leg * (ta.y - tb.y)) / 2,
  };
  const first = tangentPiece(a, ta, joint);
  const backwards = tangentPiece(b, { x: -tb.x, y: -tb.y }, joint);
  if (first === null || backwards === null) return [];
  const second: Segment =
    backwards.kind === 'line'
      ? { kind: 'line', from: joint, to: b }
      : { ...backwards, from: joint, to: b, sweepRad: -backwards.sweepRad };
  return [first, second];
}

/** An arc flatter than this over its chord is a line, mm: no machine and no drawing resolves it. */
const FLAT_MM = 1e-9;

/** The arc (or line) from `a` along `t` to `b`; null when it would be half a turn or more. */
function tangentPiece(a: Point, t: Point, b: Point): Segment | null {
  const dx = b.x - a.x;
  const dy = b.y - a.y;
  const chordSquared = dx * dx + dy * dy;
  const side = t.x * dy - t.y * dx;
  const ahead = t.x * dx + t.y * dy;
  if (chordSquared === 0) return null;
  const half = Math.atan2(side, ahead);
  // Sagitta of a flat arc: chord · tan(half angle / 2) / 2.
  if (Math.abs(half) < 1 && Math.abs(side) <= 4 * FLAT_MM) return { kind: 'line', from: a, to: b };
  if (!(Math.abs(half) < Math.PI / 2)) return null;
  // Signed radius, positive with the centre to the left.
  const r = chordSquared / (2 * side);
  const centre = { x: a.x - t.y * r, y: a.y + t.x * r };
  return { kind: 'arc', from: a, to: b, centre, radiusMm: Math.abs(r), sweepRad: 2 * half };
}

/** The circle through three points as an arc from the first over the second to the third; null when they are in line. */
export function arcThrough(a: Point, middle: Point, b: Point): { centre: Point; radiusMm: number } | null {
  const ux = middle.x - a.x;
  const uy = middle.y - a.y;
  const vx = b.x - a.x;
  const vy = b.y - a.y;
  const cross = ux * vy - uy * vx;
  const uu = ux * ux + uy * uy;
  const vv = vx * vx + vy * vy;
  if (Math.abs(cross) <= 1e-14 * Math.max(uu, vv)) return null;
  const cx = (uu * vy - vv * uy) / (2 * cross);
  const cy = (vv * ux - uu * vx) / (2 * cross);
  const centre = { x: a.x + cx, y: a.y + cy };
  return { centre, radiusMm: distanceMm(centre, a) };
}

/** Both pieces as one when they lie on the same circle or line within `withinMm` and stay within half a turn; else null. */
export function joinPieces(a: Segment, b: Segment, withinMm: number): Segment | null {
  if (a.kind === 'line' && b.kind === 'line') {
    const dx = b.to.x - a.from.x;
    const dy = b.to.y - a.from.y;
    const length = Math.sqrt(dx * dx + dy * dy);
    if (length === 0) return null;
    const off = Math.abs(dx * (a.to.y - a.from.y) - dy * (a.to.x - a.from.x)) / length;
    const isForward = length >= segmentLengthMm(a) && length >= segmentLengthMm(b);
    return isForward && off <= withinMm ? { kind: 'line', from: a.from, to: b.to } : null;
  }
  if (a.kind !== 'arc' || b.kind !== 'arc' || a.sweepRad > 0 !== b.sweepRad > 0) return null;
  // Two quarter turns may add up to a rounding error more than half a turn.
  const limit = (turn: number): number => Math.max(-Math.PI, Math.min(Math.PI, turn));
  const sum = a.sweepRad + b.sweepRad;
  const sweepRad = limit(sum);
  if (Math.abs(sum - sweepRad) > 1e-12 || distanceMm(a.centre, b.centre) > withinMm) return null;
  if (Math.abs(a.radiusMm - b.radiusMm) > withinMm) return null;
  const total = Math.abs(sweepRad);
  const part = Math.abs(a.sweepRad) / total;
  const centre = {
    x: a.centre.x * part + b.centre.x * (1 - part),
    y: a.centre.y * part + b.centre.y * (1 - part),
  };
  return { kind: 'arc', from: a.from, to: b.to, centre, radiusMm: distanceMm(centre, a.from), sweepRad };
}
