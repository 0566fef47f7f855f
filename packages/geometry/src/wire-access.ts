import Flatbush from 'flatbush';
import { type Contour, reverseContour } from './contour.js';
import { type Facing, facing, type Wall, wallsOf, widestBefore } from './facing.js';
import type { Point } from './point.js';
import { nearestPoint, pointAt, segmentBox, tangentAt } from './segment.js';

/** Inside corners that turn more than this count as sharp, rad: one degree, well above noise of tangent joints in drawings. */
export const SHARP_CORNER_RAD = Math.PI / 180;

export interface InsideArc {
  readonly radiusMm: number;
  /** Middle of the arc. */
  readonly at: Point;
  /** Index of the segment in the contour as given. */
  readonly segment: number;
}

export interface SharpCorner {
  readonly at: Point;
  /** Change of direction towards the wire, rad; the wall angle is π minus this. */
  readonly turnRad: number;
  /** Index of the segment that ends in the corner, in the contour as given. */
  readonly segment: number;
}

/** What a wire meets at single places of one contour. */
export interface InsideCorners {
  /** Arcs concave towards the wire, smallest radius first. */
  readonly insideArcs: readonly InsideArc[];
  readonly minInsideRadiusMm: number | null;
  readonly minInsideRadiusAt: Point | null;
  /** Corners turned towards the wire by more than the stated angle, in order of travel. */
  readonly sharpCorners: readonly SharpCorner[];
  readonly sharpInsideCorners: readonly Point[];
}

/** What limits the wire along one contour. */
export interface WireAccess extends InsideCorners {
  /**
   * Diameter of the smallest disc that touches the contour at two places straight across from each other with nothing
   * inside it; null when nothing faces itself. A slot gives its width, a neck its narrowest place, a round hole its diameter.
   */
  readonly narrowestMm: number | null;
  /** Centre of that disc. */
  readonly narrowestAt: Point | null;
  /** Where it touches. */
  readonly narrowestBetween: readonly [Point, Point] | null;
}

/**
 * What a wire running on the given side of a contour (seen in direction of travel) has to pass: inside radii, sharp inside
 * corners and the narrowest passage between parts of this contour.
 */
export function wireAccess(
  c: Contour,
  wireSide: 'left' | 'right',
  options: { readonly sharpCornerRad?: number } = {},
): WireAccess {
  const narrowest = narrowestPassage(wireSide === 'left' ? c : reverseContour(c));
  return {
    ...insideCorners(c, wireSide, options.sharpCornerRad),
    narrowestMm: narrowest?.widthMm ?? null,
    narrowestAt: narrowest && middle(narrowest.first, narrowest.second),
    narrowestBetween: narrowest && [narrowest.first, narrowest.second],
  };
}

/** Inside arcs and sharp inside corners on the wire's side, in time that grows only with the number of segments. */
export function insideCorners(
  c: Contour,
  wireSide: 'left' | 'right',
  sharpCornerRad: number = SHARP_CORNER_RAD,
): InsideCorners {
  const side = wireSide === 'left' ? 1 : -1;
  const insideArcs: InsideArc[] = [];
  const sharpCorners: SharpCorner[] = [];
  const n = c.segments.length;
  c.segments.forEach((s, i) => {
    if (s.kind === 'arc' && s.sweepRad * side > 0) {
      insideArcs.push({ radiusMm: s.radiusMm, at: pointAt(s, 0.5), segment: i });
    }
    const next = i + 1 < n ? c.segments[i + 1] : c.isClosed ? c.segments[0] : undefined;
    if (next === undefined) return;
    const a = tangentAt(s, 1);
    const b = tangentAt(next, 0);
    const turnRad = side * Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
    if (turnRad > sharpCornerRad) sharpCorners.push({ at: s.to, turnRad, segment: i });
  });
  insideArcs.sort((a, b) => a.radiusMm - b.radiusMm || a.segment - b.segment);
  return {
    insideArcs,
    minInsideRadiusMm: insideArcs[0]?.radiusMm ?? null,
    minInsideRadiusAt: insideArcs[0]?.at ?? null,
    sharpCorners,
    sharpInsideCorners: sharpCorners.map((corner) => corner.at),
  };
}

function middle(a: Point, b: Point): Point {
  return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
}

/** Places closer than this belong to one joint, mm; narrower passages are touching walls, a fault of the contour. */
const JOINT_MM = 1e-6;

/** Smallest empty disc between facing places of a contour whose free side is on the left. */
function narrowestPassage(c: Contour): Facing | null {
  const walls = wallsOf(c);
  if (walls.length === 0) return null;
  const isEmpty = emptiness(c);
  const reach = walls.map((w) => reachMm(w, c));
  const boxes = new Flatbush(walls.length);
  for (const w of walls) boxes.add(w.minX, w.minY, w.maxX, w.maxY);
  boxes.finish();
  let best: Facing | null = null;
  let limit = Number.POSITIVE_INFINITY;
  const consider = (i: number, j: number): void => {
    const a = walls[i]!;
    const b = walls[j]!;
    if (!isAhead(a, b) || !isAhead(b, a)) return;
    const found = facing(a, b, Math.min(limit, reach[i]!, reach[j]!));
    if (found !== null && found.widthMm > JOINT_MM && isEmpty(found, a, b)) {
      best = found;
      limit = found.widthMm;
    }
  };
  // Walls that see least come first: they bring the limit down for the others.
  const order = walls.map((_, i) => i).sort((i, j) => reach[i]! - reach[j]!);
  const rank = new Int32Array(walls.length);
  order.forEach((i, k) => {
    rank[i] = k;
  });
  order.forEach((i, k) => {
    const w = walls[i]!;
    const r = Math.min(limit, reach[i]!);
    if (r === Number.POSITIVE_INFINITY) {
      for (let m = k; m < order.length; m++) consider(i, order[m]!);
    } else {
      boxes.search(w.minX - r, w.minY - r, w.maxX + r, w.maxY + r, (j) => {
        if (rank[j]! >= k) consider(i, j);
        return false;
      });
    }
  });
  return best;
}

/** Segments on both sides along the contour that are looked at to bound how far a wall can see. */
const NEIGHBOURS = 8;

/** Largest width at which an empty disc can touch the wall, mm, from its own curve and the joints around it. */
function reachMm(w: Wall, c: Contour): number {
  const n = c.segments.length;
  let reach = w.rho < 0 ? -2 * w.rho : Number.POSITIVE_INFINITY;
  for (let step = -NEIGHBOURS; step <= NEIGHBOURS; step++) {
    const k = w.segment + step;
    if (!c.isClosed && (k < 0 || k >= n)) continue;
    reach = Math.min(reach, widestBefore(w, c.segments[((k % n) + n) % n]!.to));
  }
  // The bound is exact; a little slack keeps the wall that sets it.
  return reach * (1 + 2 * EMPTY_PART) + JOINT_MM;
}

/** False when all of `b` lies behind a straight wall `a`: a quick refusal of most pairs. */
function isAhead(a: Wall, b: Wall): boolean {
  if (!a.isLine) return true;
  const x = a.n0x > 0 ? b.maxX : b.minX;
  const y = a.n0y > 0 ? b.maxY : b.minY;
  return (x - a.x) * a.n0x + (y - a.y) * a.n0y > 0;
}

/** Part of the width by which other walls may reach into a disc that still counts as empty, no unit. */
const EMPTY_PART = 1e-6;

/** A test whether the disc across a facing pair holds no part of the contour. */
function emptiness(c: Contour): (f: Facing, a: Wall, b: Wall) => boolean {
  const { segments } = c;
  const n = segments.length;
  const tree = new Flatbush(n);
  for (const s of segments) {
    const b = segmentBox(s);
    tree.add(b.minX, b.minY, b.maxX, b.maxY);
  }
  tree.finish();
  return ({ widthMm, first, second }, a, b) => {
    const at = middle(first, second);
    const r = (widthMm / 2) * (1 - EMPTY_PART) - JOINT_MM / 10;
    // Most false pairs fail on the segments beside their own walls.
    for (const around of [a.segment, b.segment]) {
      for (let step = -2; step <= 2; step++) {
        const s = segments[(((around + step) % n) + n) % n]!;
        if (nearestPoint(s, at).distanceMm < r) return false;
      }
    }
    let isClear = true;
    tree.search(at.x - r, at.y - r, at.x + r, at.y + r, (i) => {
      if (isClear && nearestPoint(segments[i]!, at).distanceMm < r) isClear = false;
      return false;
    });
    return isClear;
  };
}
