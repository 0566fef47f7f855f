import {
  type ArcSegment,
  arc,
  distanceMm,
  isWithinSweep,
  line,
  type Point,
  type Segment,
  tangentAt,
} from '@gapwright/geometry';
import { SAME_POINT_MM } from './tolerances.js';

/** Unit vector to the left of a direction. */
export function leftOf(direction: Point): Point {
  return { x: -direction.y, y: direction.x };
}

export function cross(a: Point, b: Point): number {
  return a.x * b.y - a.y * b.x;
}

export function dot(a: Point, b: Point): number {
  return a.x * b.x + a.y * b.y;
}

/**
 * The path of the wire centre along one block, `leftMm` to the left of the programmed one (negative: to the right).
 * Null when the block is an arc that shrinks to nothing.
 */
export function offsetBlock(s: Segment, leftMm: number): Segment | null {
  if (s.kind === 'line') {
    const n = leftOf(tangentAt(s, 0));
    const dx = n.x * leftMm;
    const dy = n.y * leftMm;
    return line({ x: s.from.x + dx, y: s.from.y + dy }, { x: s.to.x + dx, y: s.to.y + dy });
  }
  // Left of a counter-clockwise arc is towards its centre.
  const radius = s.radiusMm - Math.sign(s.sweepRad) * leftMm;
  if (radius <= SAME_POINT_MM) return null;
  const k = radius / s.radiusMm;
  const scaled = (p: Point): Point => ({
    x: s.centre.x + (p.x - s.centre.x) * k,
    y: s.centre.y + (p.y - s.centre.y) * k,
  });
  return {
    kind: 'arc',
    from: scaled(s.from),
    to: scaled(s.to),
    centre: s.centre,
    radiusMm: radius,
    sweepRad: s.sweepRad,
  };
}

/** The arc around a corner of the programmed path, from the end of one offset block to the start of the next. */
export function cornerArc(corner: Point, from: Point, to: Point, leftMm: number): ArcSegment {
  const a = { x: from.x - corner.x, y: from.y - corner.y };
  const b = { x: to.x - corner.x, y: to.y - corner.y };
  let sweep = Math.atan2(cross(a, b), dot(a, b));
  // Kept on the left, the wire turns right (clockwise) around an outside corner. A reversal is half a turn that way.
  if (leftMm > 0 ? sweep > 0 : sweep < 0) sweep = leftMm > 0 ? -Math.PI : Math.PI;
  return arc(from, to, corner, sweep);
}

/** Angle from the start of an arc to a point, in its own direction; negative values lie nearer before the start than past the end. */
function turnTo(s: ArcSegment, p: Point): number {
  const a = { x: s.from.x - s.centre.x, y: s.from.y - s.centre.y };
  const b = { x: p.x - s.centre.x, y: p.y - s.centre.y };
  const turn = Math.atan2(cross(a, b), dot(a, b)) * Math.sign(s.sweepRad);
  return turn < (Math.abs(s.sweepRad) - 2 * Math.PI) / 2 ? turn + 2 * Math.PI : turn;
}

/** Fraction of a segment's length at a point on it (may lie a little outside 0 to 1). */
export function fractionAt(s: Segment, p: Point): number {
  if (s.kind === 'arc') return turnTo(s, p) / Math.abs(s.sweepRad);
  const d = { x: s.to.x - s.from.x, y: s.to.y - s.from.y };
  const squared = dot(d, d);
  return squared === 0 ? 0 : dot({ x: p.x - s.from.x, y: p.y - s.from.y }, d) / squared;
}

/** The part of a segment between two points on it. */
export function cutSegment(s: Segment, from: Point, to: Point): Segment {
  if (s.kind === 'line') return line(from, to);
  const sweepRad = (turnTo(s, to) - turnTo(s, from)) * Math.sign(s.sweepRad);
  return { kind: 'arc', from, to, centre: s.centre, radiusMm: s.radiusMm, sweepRad };
}

/** True when a point of the carrier lies on the segment itself, ends included with `slackMm`. */
function liesOn(s: Segment, p: Point, slackMm: number): boolean {
  if (distanceMm(s.from, p) <= slackMm || distanceMm(s.to, p) <= slackMm) return true;
  if (s.kind === 'arc') return isWithinSweep(s, p.x, p.y);
  const t = fractionAt(s, p);
  return t >= 0 && t <= 1;
}

/** Points common to the full lines or circles that carry two segments. */
function carrierCrossings(a: Segment, b: Segment): Point[] {
  if (a.kind === 'line' && b.kind === 'line') {
    const da = tangentAt(a, 0);
    const db = tangentAt(b, 0);
    const det = cross(da, db);
    if (Math.abs(det) < 1e-12) return [];
    const t = cross({ x: b.from.x - a.from.x, y: b.from.y - a.from.y }, db) / det;
    return [{ x: a.from.x + da.x * t, y: a.from.y + da.y * t }];
  }
  if (a.kind === 'line' && b.kind === 'arc') {
    const d = tangentAt(a, 0);
    const t = dot({ x: b.centre.x - a.from.x, y: b.centre.y - a.from.y }, d);
    const foot = { x: a.from.x + d.x * t, y: a.from.y + d.y * t };
    const away = distanceMm(foot, b.centre);
    const squared = (b.radiusMm - away) * (b.radiusMm + away);
    // A line that misses the circle by less than a point's width touches it.
    if (squared < 0) return away - b.radiusMm <= SAME_POINT_MM ? [foot] : [];
    const h = Math.sqrt(squared);
    return [
      { x: foot.x - d.x * h, y: foot.y - d.y * h },
      { x: foot.x + d.x * h, y: foot.y + d.y * h },
    ];
  }
  if (a.kind === 'arc' && b.kind === 'line') return carrierCrossings(b, a);
  if (a.kind === 'arc' && b.kind === 'arc') {
    const dx = b.centre.x - a.centre.x;
    const dy = b.centre.y - a.centre.y;
    const e = Math.sqrt(dx * dx + dy * dy);
    if (e < SAME_POINT_MM) return [];
    const along = (e * e + a.radiusMm * a.radiusMm - b.radiusMm * b.radiusMm) / (2 * e);
    const squared = (a.radiusMm - along) * (a.radiusMm + along);
    const foot = { x: a.centre.x + (dx / e) * along, y: a.centre.y + (dy / e) * along };
    if (squared < 0) return Math.abs(along) - a.radiusMm <= SAME_POINT_MM ? [foot] : [];
    const h = Math.sqrt(squared);
    return [
      { x: foot.x - (dy / e) * h, y: foot.y + (dx / e) * h },
      { x: foot.x + (dy / e) * h, y: foot.y - (dx / e) * h },
    ];
  }
  return [];
}

/** Points common to two segments. Overlapping segments have no single point and give none. */
export function crossings(a: Segment, b: Segment): Point[] {
  return carrierCrossings(a, b).filter((p) => liesOn(a, p, SAME_POINT_MM) && liesOn(b, p, SAME_POINT_MM));
}
