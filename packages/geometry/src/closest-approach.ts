import { distanceMm, type Point } from './point.js';
import { type ArcSegment, isWithinSweep, type LineSegment, nearestPoint, type Segment } from './segment.js';

export interface Approach {
  readonly distanceMm: number;
  /** Place on the first segment. */
  readonly onFirst: Point;
  /** Place on the second segment. */
  readonly onSecond: Point;
}

/** The shortest way between two segments; 0 with one common point when they cross or touch. */
export function closestApproach(a: Segment, b: Segment): Approach {
  const common = commonPoint(a, b);
  if (common !== null) return { distanceMm: 0, onFirst: common, onSecond: common };
  let best: Approach = { distanceMm: Number.POSITIVE_INFINITY, onFirst: a.from, onSecond: b.from };
  const offer = (onFirst: Point, onSecond: Point): void => {
    const d = distanceMm(onFirst, onSecond);
    if (d < best.distanceMm) best = { distanceMm: d, onFirst, onSecond };
  };
  offer(a.from, nearestPoint(b, a.from).point);
  offer(a.to, nearestPoint(b, a.to).point);
  offer(nearestPoint(a, b.from).point, b.from);
  offer(nearestPoint(a, b.to).point, b.to);
  // Shortest ways between the inner parts run through the centres of the arcs.
  if (a.kind === 'arc' && b.kind === 'arc') {
    for (const p of centreLinePoints(a, b.centre)) offer(p, nearestPoint(b, p).point);
  } else if (a.kind === 'arc') {
    const foot = nearestPoint(b, a.centre).point;
    for (const p of centreLinePoints(a, foot)) offer(p, nearestPoint(b, p).point);
  } else if (b.kind === 'arc') {
    const foot = nearestPoint(a, b.centre).point;
    for (const p of centreLinePoints(b, foot)) offer(nearestPoint(a, p).point, p);
  }
  return best;
}

/** Points of the arc on the line from its centre through `towards`. */
function centreLinePoints(s: ArcSegment, towards: Point): Point[] {
  const d = distanceMm(s.centre, towards);
  if (d === 0) return [];
  const k = s.radiusMm / d;
  const x = (towards.x - s.centre.x) * k;
  const y = (towards.y - s.centre.y) * k;
  const both = [
    { x: s.centre.x + x, y: s.centre.y + y },
    { x: s.centre.x - x, y: s.centre.y - y },
  ];
  return both.filter((p) => isWithinSweep(s, p.x, p.y));
}

function commonPoint(a: Segment, b: Segment): Point | null {
  if (a.kind === 'line') return b.kind === 'line' ? lineLine(a, b) : lineArc(a, b);
  return b.kind === 'line' ? lineArc(b, a) : arcArc(a, b);
}

function lineLine(a: LineSegment, b: LineSegment): Point | null {
  const ax = a.to.x - a.from.x;
  const ay = a.to.y - a.from.y;
  const bx = b.to.x - b.from.x;
  const by = b.to.y - b.from.y;
  const cross = ax * by - ay * bx;
  if (cross === 0) return null;
  const ox = b.from.x - a.from.x;
  const oy = b.from.y - a.from.y;
  const t = (ox * by - oy * bx) / cross;
  const u = (ox * ay - oy * ax) / cross;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? { x: a.from.x + ax * t, y: a.from.y + ay * t } : null;
}

function lineArc(a: LineSegment, b: ArcSegment): Point | null {
  const dx = a.to.x - a.from.x;
  const dy = a.to.y - a.from.y;
  const dd = dx * dx + dy * dy;
  if (dd === 0) return null;
  const fx = a.from.x - b.centre.x;
  const fy = a.from.y - b.centre.y;
  const middle = -(fx * dx + fy * dy) / dd;
  const off = (fx * dy - fy * dx) / Math.sqrt(dd);
  const squared = (b.radiusMm * b.radiusMm - off * off) / dd;
  if (squared < 0) return null;
  const half = Math.sqrt(squared);
  for (const t of [middle - half, middle + half]) {
    const p = { x: a.from.x + dx * t, y: a.from.y + dy * t };
    if (t >= 0 && t <= 1 && isWithinSweep(b, p.x, p.y)) return p;
  }
  return null;
}

function arcArc(a: ArcSegment, b: ArcSegment): Point | null {
  const dx = b.centre.x - a.centre.x;
  const dy = b.centre.y - a.centre.y;
  const dd = dx * dx + dy * dy;
  if (dd === 0) return null;
  const along = (dd + a.radiusMm * a.radiusMm - b.radiusMm * b.radiusMm) / (2 * dd);
  const squared = (a.radiusMm * a.radiusMm) / dd - along * along;
  if (squared < 0) return null;
  const across = Math.sqrt(squared);
  for (const side of [across, -across]) {
    const p = { x: a.centre.x + dx * along - dy * side, y: a.centre.y + dy * along + dx * side };
    if (isWithinSweep(a, p.x, p.y) && isWithinSweep(b, p.x, p.y)) return p;
  }
  return null;
}
