import { type ArcSegment, type Contour, nearestPoint, type Point, type Segment, tangentAt } from '@gapwright/geometry';
import { cross, fractionAt } from './offset-block.js';

/**
 * True when the point lies inside a closed contour: parity of the chord polygon, corrected for every circular segment
 * between an arc and its chord that holds the point. Exact but for points on the contour itself.
 */
export function isInside(c: Contour, p: Point): boolean {
  let inside = false;
  for (const s of c.segments) if (turnsParity(s, p)) inside = !inside;
  return inside;
}

/** True when this segment changes on which side of the contour the point is seen to be. */
export function turnsParity(s: Segment, p: Point): boolean {
  const crossesRay = s.from.y > p.y !== s.to.y > p.y;
  if (!crossesRay && s.kind === 'line') return false;
  const isLeft = isLeftOfChord(s.from, s.to, p);
  const byChord = crossesRay && isLeft === s.to.y > s.from.y;
  // A counter-clockwise arc bulges to the right of its chord.
  const byBow = s.kind === 'arc' && isLeft === s.sweepRad < 0 && isInDisc(s, p);
  return byChord !== byBow;
}

function isInDisc(s: ArcSegment, p: Point): boolean {
  const dx = p.x - s.centre.x;
  const dy = p.y - s.centre.y;
  return dx * dx + dy * dy < s.radiusMm * s.radiusMm;
}

/**
 * Side of a chord, from its ends in a fixed order: the same chord walked back gives exactly the other answer, also for
 * a point on it, so that two arcs sharing a chord never both claim or both miss the point.
 */
function isLeftOfChord(from: Point, to: Point, p: Point): boolean {
  const swap = from.x > to.x || (from.x === to.x && from.y > to.y);
  const a = swap ? to : from;
  const b = swap ? from : to;
  return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x) >= 0 !== swap;
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
