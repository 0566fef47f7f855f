import { distanceMm, type Point } from './point.js';
import { arc, type LineSegment, type Segment } from './segment.js';

/**
 * Makes `a` end exactly where `b` starts. Within `mergeMm` an arc's end wins over a line's, so arcs stay as drawn; wider
 * gaps move line ends, to where both lines meet if that is no further than the gap is wide, and bend arcs only when
 * arc meets arc.
 */
export function joinExactly(a: Segment, b: Segment, mergeMm: number): [Segment, Segment] {
  const gap = distanceMm(a.to, b.from);
  if (gap === 0) return [a, withFrom(b, a.to)];
  if (a.kind === 'line' && b.kind === 'arc') return [{ ...a, to: b.from }, b];
  if (a.kind === 'arc' && b.kind === 'line') return [a, { ...b, from: a.to }];
  if (a.kind === 'line' && b.kind === 'line') {
    const at = (gap > mergeMm && crossingWithin(a, b, gap)) || (gap > mergeMm ? middle(a.to, b.from) : a.to);
    return [
      { ...a, to: at },
      { ...b, from: at },
    ];
  }
  if (gap <= mergeMm) return [a, withFrom(b, a.to)];
  const at = middle(a.to, b.from);
  return [bentArc(a, a.from, at), bentArc(b, at, b.to)];
}

function withFrom(s: Segment, from: Point): Segment {
  return { ...s, from };
}

function middle(a: Point, b: Point): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

/** Where the two carrier lines meet, if that is within `reachMm` of both ends. */
function crossingWithin(a: LineSegment, b: LineSegment, reachMm: number): Point | null {
  const ax = a.to.x - a.from.x;
  const ay = a.to.y - a.from.y;
  const bx = b.to.x - b.from.x;
  const by = b.to.y - b.from.y;
  const cross = ax * by - ay * bx;
  if (cross === 0) return null;
  const t = ((b.from.x - a.from.x) * by - (b.from.y - a.from.y) * bx) / cross;
  const at = { x: a.from.x + ax * t, y: a.from.y + ay * t };
  return t > 0 && distanceMm(at, a.to) <= reachMm && distanceMm(at, b.from) <= reachMm ? at : null;
}

/** The arc with the same sweep between moved ends; its radius changes in proportion to the chord. */
function bentArc(s: Segment, from: Point, to: Point): Segment {
  if (s.kind === 'line') return { kind: 'line', from, to };
  const along = 1 / (2 * Math.tan(s.sweepRad / 2));
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const centre = { x: (from.x + to.x) / 2 - dy * along, y: (from.y + to.y) / 2 + dx * along };
  return arc(from, to, centre, s.sweepRad);
}
