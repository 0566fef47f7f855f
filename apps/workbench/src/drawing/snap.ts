import type { Point } from '@gapwright/geometry';
import { CENTRE_X, CENTRE_Y, FROM_Y, isInSweep, nearestOn, pointOn, RADIUS, TO_X, TO_Y } from './segments.js';

export type SnapKind = 'end' | 'middle' | 'centre' | 'tangent' | 'square' | 'nearest' | 'free';

/** A point that measuring holds on to. */
export interface Snap {
  readonly kind: SnapKind;
  readonly at: Point;
  /** Radius of the arc it lies on or belongs to, mm; null on lines and in the open. */
  readonly radiusMm: number | null;
}

export const SNAP_WORDS: Readonly<Record<SnapKind, string>> = {
  end: 'end',
  middle: 'middle',
  centre: 'centre',
  tangent: 'tangent',
  square: 'square to the line',
  nearest: 'on the line',
  free: 'free point',
};

/**
 * Where several marked points lie within reach, the distance of each kind counts times this: ends are shared by two
 * segments and are what is measured most, so they win against a middle or tangent that is as near.
 */
const DISTANCE_WEIGHT: Readonly<Record<Exclude<SnapKind, 'nearest' | 'free'>, number>> = {
  end: 0.8,
  centre: 0.85,
  middle: 0.95,
  tangent: 0.95,
  square: 1,
};

/** All points of one packed segment that can be held on to, near or far. `from` is the first measured point. */
export function segmentSnaps(values: Float64Array, at: number, cursor: Point, from: Point | null): Snap[] {
  const r = values[at + RADIUS]!;
  const radiusMm = r === 0 ? null : r;
  const near = nearestOn(values, at, cursor.x, cursor.y);
  const snaps: Snap[] = [
    { kind: 'end', at: { x: values[at]!, y: values[at + FROM_Y]! }, radiusMm },
    { kind: 'end', at: { x: values[at + TO_X]!, y: values[at + TO_Y]! }, radiusMm },
    { kind: 'middle', at: pointOn(values, at, 0.5), radiusMm },
    { kind: 'nearest', at: { x: near.x, y: near.y }, radiusMm },
  ];
  const centre = { x: values[at + CENTRE_X]!, y: values[at + CENTRE_Y]! };
  if (r !== 0) snaps.push({ kind: 'centre', at: centre, radiusMm });
  if (from === null) return snaps;
  if (r === 0) {
    const foot = footOnLine(values, at, from);
    if (foot !== null) snaps.push({ kind: 'square', at: foot, radiusMm });
    return snaps;
  }
  for (const p of tangentPoints(centre, r, from)) {
    if (isInSweep(values, at, p.x, p.y)) snaps.push({ kind: 'tangent', at: p, radiusMm });
  }
  const away = Math.sqrt((from.x - centre.x) ** 2 + (from.y - centre.y) ** 2);
  if (away > 0) {
    for (const side of [1, -1]) {
      const k = (side * r) / away;
      const p = { x: centre.x + (from.x - centre.x) * k, y: centre.y + (from.y - centre.y) * k };
      if (isInSweep(values, at, p.x, p.y)) snaps.push({ kind: 'square', at: p, radiusMm });
    }
  }
  return snaps;
}

/** Points where lines from `from` touch the circle; none from within it. */
export function tangentPoints(centre: Point, radiusMm: number, from: Point): Point[] {
  const dx = from.x - centre.x;
  const dy = from.y - centre.y;
  const squared = dx * dx + dy * dy;
  if (squared <= radiusMm * radiusMm) return [];
  const along = (radiusMm * radiusMm) / squared;
  const across = (radiusMm * Math.sqrt(squared - radiusMm * radiusMm)) / squared;
  return [
    { x: centre.x + along * dx - across * dy, y: centre.y + along * dy + across * dx },
    { x: centre.x + along * dx + across * dy, y: centre.y + along * dy - across * dx },
  ];
}

function footOnLine(values: Float64Array, at: number, from: Point): Point | null {
  const dx = values[at + TO_X]! - values[at]!;
  const dy = values[at + TO_Y]! - values[at + FROM_Y]!;
  const squared = dx * dx + dy * dy;
  if (squared === 0) return null;
  const t = ((from.x - values[at]!) * dx + (from.y - values[at + FROM_Y]!) * dy) / squared;
  return t < 0 || t > 1 ? null : { x: values[at]! + dx * t, y: values[at + FROM_Y]! + dy * t };
}

/** The best of several points within `reachMm` of the cursor; the cursor itself when there is none. */
export function bestSnap(snaps: readonly Snap[], cursor: Point, reachMm: number): Snap {
  let best: Snap = { kind: 'free', at: cursor, radiusMm: null };
  let bestScore = Number.POSITIVE_INFINITY;
  for (const snap of snaps) {
    const distance = Math.sqrt((snap.at.x - cursor.x) ** 2 + (snap.at.y - cursor.y) ** 2);
    if (distance > reachMm) continue;
    // Some point along the line is always nearer than a marked one, so any marked point within reach goes first.
    const score =
      snap.kind === 'nearest' || snap.kind === 'free' ? reachMm + distance : distance * DISTANCE_WEIGHT[snap.kind];
    if (score < bestScore) {
      bestScore = score;
      best = snap;
    }
  }
  return best;
}
