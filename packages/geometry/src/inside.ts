import { type Contour, contourBox } from './contour.js';
import type { Point } from './point.js';
import { nearestPoint, type Segment } from './segment.js';

/**
 * True when `p` is inside a closed contour (even-odd rule, so both directions of travel give the same answer).
 * Exact with arcs: parity of the chord polygon, flipped for every arc whose cap between chord and arc holds the point.
 * A point on the contour itself counts as whichever side rounding puts it; ask `boundaryDistanceMm` when that matters.
 */
export function containsPoint(c: Contour, p: Point): boolean {
  if (!c.isClosed) return false;
  let isInside = false;
  for (const s of c.segments) if (flips(s, p)) isInside = !isInside;
  return isInside;
}

/** True when the segment flips inside to outside seen from p: crossing of a ray to +x, corrected by the arc's cap. */
function flips(s: Segment, p: Point): boolean {
  const { from, to } = s;
  const isCrossed = from.y > p.y !== to.y > p.y;
  if (!isCrossed && s.kind === 'line') return false;
  const isLeft = isLeftOf(from, to, p);
  const crosses = isCrossed && isLeft === to.y > from.y;
  if (s.kind === 'line') return crosses;
  const dx = p.x - s.centre.x;
  const dy = p.y - s.centre.y;
  // At most half a turn: the cap lies right of the chord for a counter-clockwise arc, left of it otherwise.
  const isInCap = isLeft !== s.sweepRad > 0 && dx * dx + dy * dy < s.radiusMm * s.radiusMm;
  return crosses !== isInCap;
}

/**
 * Side of the chord, with points on it moved a little up and then less to the right: the same choice the half-open
 * crossing rule makes, so that crossing and cap never contradict each other.
 */
function isLeftOf(from: Point, to: Point, p: Point): boolean {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const cross = dx * (p.y - from.y) - dy * (p.x - from.x);
  if (cross !== 0) return cross > 0;
  return dx !== 0 ? dx > 0 : dy < 0;
}

/** Distance from p to the nearest point of the contour, mm. */
export function boundaryDistanceMm(c: Contour, p: Point): number {
  let best = Number.POSITIVE_INFINITY;
  for (const s of c.segments) {
    const found = nearestPoint(s, p).distanceMm;
    if (found < best) best = found;
  }
  return best;
}

/** Heights at which a contour is cut to look for an interior point, as parts of its box; uneven so that they miss corners. */
const HEIGHTS = [0.4987, 0.2741, 0.7319, 0.1173, 0.8861, 0.0391, 0.9617];

/** A point well inside a closed contour (the middle of its widest cut at some height); null when it encloses nothing. */
export function interiorPoint(c: Contour): Point | null {
  if (!c.isClosed || c.segments.length === 0) return null;
  const box = contourBox(c);
  let best: Point | null = null;
  let bestWidth = 0;
  for (const part of HEIGHTS) {
    const y = box.minY + (box.maxY - box.minY) * part;
    const cuts = cutsAt(c, y);
    for (let i = 0; i + 1 < cuts.length; i++) {
      const width = cuts[i + 1]! - cuts[i]!;
      const p = { x: (cuts[i]! + cuts[i + 1]!) / 2, y };
      if (width > bestWidth && containsPoint(c, p)) {
        best = p;
        bestWidth = width;
      }
    }
  }
  return best;
}

/** Ascending x of all places where the contour meets the height y. */
function cutsAt(c: Contour, y: number): number[] {
  const cuts: number[] = [];
  for (const s of c.segments) {
    if (s.kind === 'line') {
      if (s.from.y > y !== s.to.y > y) {
        cuts.push(s.from.x + ((y - s.from.y) / (s.to.y - s.from.y)) * (s.to.x - s.from.x));
      }
      continue;
    }
    const dy = y - s.centre.y;
    const squared = s.radiusMm * s.radiusMm - dy * dy;
    if (squared <= 0) continue;
    const dx = Math.sqrt(squared);
    for (const x of [s.centre.x - dx, s.centre.x + dx]) if (isBeyondChord(s, x, y)) cuts.push(x);
  }
  return cuts.sort((a, b) => a - b);
}

/** A point of the circle belongs to the arc when it lies on the arc's side of the chord. */
function isBeyondChord(s: Extract<Segment, { kind: 'arc' }>, x: number, y: number): boolean {
  const cross = (s.to.x - s.from.x) * (y - s.from.y) - (s.to.y - s.from.y) * (x - s.from.x);
  return s.sweepRad > 0 ? cross <= 0 : cross >= 0;
}
