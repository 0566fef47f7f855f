import { type Box, distanceMm, type Point } from './point.js';

/** A straight piece of a contour. */
export interface LineSegment {
  readonly kind: 'line';
  readonly from: Point;
  readonly to: Point;
}

/**
 * A circular piece of a contour. `sweepRad` is signed, counter-clockwise positive, and never exceeds half a turn in
 * size (a full circle is two arcs); `from` and `to` lie on the circle around `centre`.
 */
export interface ArcSegment {
  readonly kind: 'arc';
  readonly from: Point;
  readonly to: Point;
  readonly centre: Point;
  readonly radiusMm: number;
  readonly sweepRad: number;
}

export type Segment = LineSegment | ArcSegment;

export function line(from: Point, to: Point): LineSegment {
  return { kind: 'line', from, to };
}

/** An arc of at most half a turn from its centre and end points; `sweepRad` gives side and size. */
export function arc(from: Point, to: Point, centre: Point, sweepRad: number): ArcSegment {
  return { kind: 'arc', from, to, centre, radiusMm: distanceMm(centre, from), sweepRad };
}

/** An arc of any sweep up to a full turn, cut into pieces of at most half a turn. Angles in radians. */
export function arcPieces(centre: Point, radiusMm: number, startRad: number, sweepRad: number): ArcSegment[] {
  const count = Math.max(1, Math.ceil((Math.abs(sweepRad) - 1e-12) / Math.PI));
  const step = sweepRad / count;
  const at = (angle: number): Point => ({
    x: centre.x + radiusMm * Math.cos(angle),
    y: centre.y + radiusMm * Math.sin(angle),
  });
  const isFullTurn = Math.abs(Math.abs(sweepRad) - 2 * Math.PI) < 1e-12;
  const first = at(startRad);
  const out: ArcSegment[] = [];
  let from = first;
  for (let i = 0; i < count; i++) {
    const to = isFullTurn && i === count - 1 ? first : at(startRad + step * (i + 1));
    out.push({ kind: 'arc', from, to, centre, radiusMm, sweepRad: step });
    from = to;
  }
  return out;
}

/**
 * The segment from `from` to `to` whose bulge is tan(sweep / 4), counter-clockwise positive, as DXF polylines store it.
 * Bulges beyond ±1 (more than half a turn) give two pieces.
 */
export function bulgeSegments(from: Point, to: Point, bulge: number): Segment[] {
  if (bulge === 0) return [line(from, to)];
  const sweepRad = 4 * Math.atan(bulge);
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  // Centre lies on the chord's perpendicular bisector, (1 - b²) / (4 b) chord lengths to the left of it.
  const along = (1 - bulge * bulge) / (4 * bulge);
  const centre = { x: (from.x + to.x) / 2 - dy * along, y: (from.y + to.y) / 2 + dx * along };
  if (Math.abs(bulge) <= 1) return [arc(from, to, centre, sweepRad)];
  const radiusMm = distanceMm(centre, from);
  const middleRad = Math.atan2(from.y - centre.y, from.x - centre.x) + sweepRad / 2;
  const middle = { x: centre.x + radiusMm * Math.cos(middleRad), y: centre.y + radiusMm * Math.sin(middleRad) };
  return [arc(from, middle, centre, sweepRad / 2), arc(middle, to, centre, sweepRad / 2)];
}

export function segmentLengthMm(s: Segment): number {
  return s.kind === 'line' ? distanceMm(s.from, s.to) : s.radiusMm * Math.abs(s.sweepRad);
}

/** The same path walked the other way. */
export function reverseSegment(s: Segment): Segment {
  if (s.kind === 'line') return { kind: 'line', from: s.to, to: s.from };
  return { kind: 'arc', from: s.to, to: s.from, centre: s.centre, radiusMm: s.radiusMm, sweepRad: -s.sweepRad };
}

/** The point at fraction `t` (0 to 1) of the segment's length. */
export function pointAt(s: Segment, t: number): Point {
  if (t <= 0) return s.from;
  if (t >= 1) return s.to;
  if (s.kind === 'line') return { x: s.from.x + (s.to.x - s.from.x) * t, y: s.from.y + (s.to.y - s.from.y) * t };
  const angle = s.sweepRad * t;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  const rx = s.from.x - s.centre.x;
  const ry = s.from.y - s.centre.y;
  return { x: s.centre.x + rx * cos - ry * sin, y: s.centre.y + rx * sin + ry * cos };
}

/** Unit vector along the direction of travel at fraction `t`. A line of no length gives (1, 0). */
export function tangentAt(s: Segment, t: number): Point {
  if (s.kind === 'line') {
    const length = distanceMm(s.from, s.to);
    if (length === 0) return { x: 1, y: 0 };
    return { x: (s.to.x - s.from.x) / length, y: (s.to.y - s.from.y) / length };
  }
  const p = pointAt(s, t);
  const side = s.sweepRad >= 0 ? 1 : -1;
  return { x: (-side * (p.y - s.centre.y)) / s.radiusMm, y: (side * (p.x - s.centre.x)) / s.radiusMm };
}

/** True when the direction from the centre towards (x, y) lies within the arc's sweep. */
export function isWithinSweep(s: ArcSegment, x: number, y: number): boolean {
  const fx = s.from.x - s.centre.x;
  const fy = s.from.y - s.centre.y;
  const tx = s.to.x - s.centre.x;
  const ty = s.to.y - s.centre.y;
  const px = x - s.centre.x;
  const py = y - s.centre.y;
  // At most half a turn: inside when to the sweep side of `from` and before `to`.
  return s.sweepRad > 0
    ? fx * py - fy * px >= 0 && px * ty - py * tx >= 0
    : fx * py - fy * px <= 0 && px * ty - py * tx <= 0;
}

export function segmentBox(s: Segment): Box {
  const box = {
    minX: Math.min(s.from.x, s.to.x),
    minY: Math.min(s.from.y, s.to.y),
    maxX: Math.max(s.from.x, s.to.x),
    maxY: Math.max(s.from.y, s.to.y),
  };
  if (s.kind === 'line') return box;
  const { centre: c, radiusMm: r } = s;
  if (isWithinSweep(s, c.x + r, c.y)) box.maxX = c.x + r;
  if (isWithinSweep(s, c.x - r, c.y)) box.minX = c.x - r;
  if (isWithinSweep(s, c.x, c.y + r)) box.maxY = c.y + r;
  if (isWithinSweep(s, c.x, c.y - r)) box.minY = c.y - r;
  return box;
}

/** Nearest point of the segment to `p`, with its distance in mm. */
export function nearestPoint(s: Segment, p: Point): { readonly point: Point; readonly distanceMm: number } {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const squared = dx * dx + dy * dy;
    const t = squared === 0 ? 0 : ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / squared;
    const point = pointAt(s, Math.min(1, Math.max(0, t)));
    return { point, distanceMm: distanceMm(point, p) };
  }
  if (isWithinSweep(s, p.x, p.y)) {
    const fromCentre = distanceMm(s.centre, p);
    if (fromCentre > 0) {
      const k = s.radiusMm / fromCentre;
      const point = { x: s.centre.x + (p.x - s.centre.x) * k, y: s.centre.y + (p.y - s.centre.y) * k };
      return { point, distanceMm: Math.abs(fromCentre - s.radiusMm) };
    }
    return { point: s.from, distanceMm: s.radiusMm };
  }
  const toStart = distanceMm(s.from, p);
  const toEnd = distanceMm(s.to, p);
  return toStart <= toEnd ? { point: s.from, distanceMm: toStart } : { point: s.to, distanceMm: toEnd };
}
