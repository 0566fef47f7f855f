import { type Box, type Point, unionBox } from './point.js';
import { reverseSegment, type Segment, segmentBox, segmentLengthMm } from './segment.js';

/** Connected lines and arcs; each segment starts where the one before ends. A closed contour ends where it starts. */
export interface Contour {
  readonly segments: readonly Segment[];
  readonly isClosed: boolean;
}

export function contour(segments: readonly Segment[], isClosed: boolean): Contour {
  return { segments, isClosed };
}

export function lengthMm(c: Contour): number {
  let total = 0;
  for (const s of c.segments) total += segmentLengthMm(s);
  return total;
}

/**
 * Signed area of a closed contour in closed form, counter-clockwise positive, mm²; 0 for an open one.
 * Exact up to rounding: shoelace over chords plus one circular segment per arc.
 */
export function areaMm2(c: Contour): number {
  const first = c.segments[0];
  if (!c.isClosed || first === undefined) return 0;
  // Coordinates relative to the first point keep the cancellation small far from the origin.
  const { x: ox, y: oy } = first.from;
  let twice = 0;
  for (const s of c.segments) {
    twice += (s.from.x - ox) * (s.to.y - oy) - (s.to.x - ox) * (s.from.y - oy);
    if (s.kind === 'arc') twice += s.radiusMm * s.radiusMm * (s.sweepRad - Math.sin(s.sweepRad));
  }
  return twice / 2;
}

export function contourBox(c: Contour): Box {
  const first = c.segments[0];
  if (first === undefined) return { minX: 0, minY: 0, maxX: 0, maxY: 0 };
  let box = segmentBox(first);
  for (let i = 1; i < c.segments.length; i++) box = unionBox(box, segmentBox(c.segments[i]!));
  return box;
}

/** The same contour walked the other way. */
export function reverseContour(c: Contour): Contour {
  return { segments: c.segments.map(reverseSegment).reverse(), isClosed: c.isClosed };
}

/** The closed contour walked counter-clockwise (`true`) or clockwise. */
export function orient(c: Contour, counterClockwise: boolean): Contour {
  return areaMm2(c) >= 0 === counterClockwise ? c : reverseContour(c);
}

/** The same closed contour starting with segment `index`. */
export function startAt(c: Contour, index: number): Contour {
  return { segments: [...c.segments.slice(index), ...c.segments.slice(0, index)], isClosed: c.isClosed };
}

export function startPoint(c: Contour): Point | undefined {
  return c.segments[0]?.from;
}
