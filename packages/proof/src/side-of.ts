import { type Contour, nearestPoint, type Point, type Segment, tangentAt } from '@gapwright/geometry';
import { cross, fractionAt } from './offset-block.js';

/**
 * True when the point lies inside a closed contour: parity of the chord polygon, corrected for every circular segment
 * between an arc and its chord that holds the point. Exact but for points on the contour itself.
 */
export function isInside(c: Contour, p: Point): boolean {
  let inside = false;
  for (const s of c.segments) {
    if (s.from.y > p.y !== s.to.y > p.y) {
      const x = s.from.x + ((p.y - s.from.y) / (s.to.y - s.from.y)) * (s.to.x - s.from.x);
      if (p.x < x) inside = !inside;
    }
    if (s.kind === 'arc' && isUnderArc(s, p)) inside = !inside;
  }
  return inside;
}

/** True between an arc of at most half a turn and its chord. */
function isUnderArc(s: Segment & { kind: 'arc' }, p: Point): boolean {
  const dx = p.x - s.centre.x;
  const dy = p.y - s.centre.y;
  if (dx * dx + dy * dy >= s.radiusMm * s.radiusMm) return false;
  const side = (s.to.x - s.from.x) * (p.y - s.from.y) - (s.to.y - s.from.y) * (p.x - s.from.x);
  // A counter-clockwise arc bulges to the right of its chord. A point on the chord is counted with the parity rule's half-open side.
  return s.sweepRad > 0 ? side < 0 : side > 0;
}

/** Which side of an open contour the point lies on, by the nearest place; past an end, by the extended tangent. */
export function sideOfOpen(c: Contour, p: Point): 'left' | 'right' {
  let best = Number.POSITIVE_INFINITY;
  let side = 0;
  for (const s of c.segments) {
    const near = nearestPoint(s, p);
    const t = tangentAt(s, Math.min(1, Math.max(0, fractionAt(s, near.point))));
    const value = cross(t, { x: p.x - near.point.x, y: p.y - near.point.y });
    // At a shared corner both segments are equally near: the one seen more squarely decides.
    if (near.distanceMm < best - 1e-12 || (near.distanceMm <= best + 1e-12 && Math.abs(value) > Math.abs(side))) {
      best = Math.min(best, near.distanceMm);
      side = value;
    }
  }
  return side >= 0 ? 'left' : 'right';
}
