import {
  closestApproach,
  distanceMm,
  line,
  type Point,
  type SegmentIndex,
  segmentBox,
  segmentLengthMm,
  tangentAt,
} from '@gapwright/geometry';
import { placeAt, type Walk } from './contour-walk.js';

/** A place on a contour where the wire may come in: smooth, and away from corners. The part is left of travel. */
export interface EntryPlace {
  /** Arc length from the start of the contour, mm. */
  readonly s: number;
  readonly at: Point;
  /** Start holes lie on the ray from here along `normal`: the place itself, or the outside corner it stands beside. */
  readonly base: Point;
  /** Unit vector from the contour into the waste. */
  readonly normal: Point;
  /** Radius of the largest disc in the waste that touches the contour here and no other line; Infinity when nothing is near. */
  readonly roomMm: number;
  /** Smooth stretch before and after the place, mm. */
  readonly smoothBeforeMm: number;
  readonly smoothAfterMm: number;
  /** Share of the offset by which the wire must stay away from the inside corner at either end; 0 at outside corners. */
  readonly cornerBefore: number;
  readonly cornerAfter: number;
}

/** What the search for room needs to know about all lines of the drawing. */
export interface Surroundings {
  nearest(p: Point): { readonly point: Point; readonly distanceMm: number };
  /** True when a straight way comes nearer than `mm` to any line. */
  isNear(from: Point, to: Point, mm: number): boolean;
  /** Radius beyond which room counts as unlimited, mm: more than the drawing's diagonal. */
  readonly farMm: number;
}

/** All lines in an index; room beyond `farMm` counts as unlimited. */
export function surroundings(index: SegmentIndex, farMm: number): Surroundings {
  return {
    farMm,
    nearest: (p) => index.nearest(p)!,
    isNear: (from, to, mm) => {
      const way = line(from, to);
      const { minX, minY, maxX, maxY } = segmentBox(way);
      const near = index.search({ minX: minX - mm, minY: minY - mm, maxX: maxX + mm, maxY: maxY + mm });
      return near.some((k) => closestApproach(way, index.segments[k]!).distanceMm < mm);
    },
  };
}

/** Turns between segments below this count as smooth, rad: arcs fitted to a spline meet within far less. */
const SMOOTH_TURN_RAD = 0.01;
/** Candidates kept per contour; more give no shorter lead-in in practice. */
const MOST_PLACES = 8;
/** Entries at an outside corner stand this far beside it, so that every cut goes round the corner, mm. */
const BESIDE_CORNER_MM = 0.2;
/** A disc that reaches another line by less than this still counts as clear, mm. */
const TOUCH_MM = 1e-6;
/** The disc shrinks to its size within a few rounds; this only bounds the work. */
const MOST_SHRINKS = 40;

interface Run {
  readonly from: number;
  readonly to: number;
  readonly cornerBefore: number;
  readonly cornerAfter: number;
  /** True for the one run of a contour without corners. */
  readonly isWhole: boolean;
}

/** Places to come in, best first: the middles of long straight lines, then of long arcs. */
export function entryPlaces(walk: Walk, around: Surroundings): EntryPlace[] {
  const { segments } = walk.contour;
  if (segments.length === 0) return [];
  const smooth = new Smoothness(walk);
  const candidates: { s: number; isLine: boolean; length: number }[] = [];
  segments.forEach((segment, i) => {
    const length = segmentLengthMm(segment);
    const start = walk.starts[i]!;
    candidates.push({ s: start + length / 2, isLine: segment.kind === 'line', length });
    if (segment.kind === 'line') candidates.push({ s: start + 0.75 * length, isLine: true, length: length * 0.75 });
  });
  const isCircle =
    smooth.isWholeTurn && segments.every((segment) => segment.kind === 'arc' && isSameCircle(segment, segments[0]!));
  candidates.sort((a, b) => Number(b.isLine) - Number(a.isLine) || b.length - a.length || a.s - b.s);
  return candidates.slice(0, isCircle ? 1 : MOST_PLACES).map(({ s }) => placeOnLine(walk, s, smooth, around));
}

/**
 * Places to try when the usual ones have no room, as between the teeth of a wheel: arcs that bulge towards the waste,
 * then lines between two outside corners (tips of teeth), then outside corners, entered beside the corner from where the
 * waste is widest.
 */
export function furtherPlaces(walk: Walk, around: Surroundings): EntryPlace[] {
  const { segments, isClosed } = walk.contour;
  const smooth = new Smoothness(walk);
  const bulges: { s: number; length: number }[] = [];
  const corners: number[] = [];
  const tips: { s: number }[] = [];
  const n = segments.length;
  const isOutsideCorner = (before: number, after: number): boolean =>
    turnBetween(tangentAt(segments[before % n]!, 1), tangentAt(segments[after % n]!, 0)) > SMOOTH_TURN_RAD;
  segments.forEach((segment, i) => {
    const length = segmentLengthMm(segment);
    if (segment.kind === 'arc' && segment.sweepRad > 0) bulges.push({ s: walk.starts[i]! + length / 2, length });
    if ((i === 0 && !isClosed) || !isOutsideCorner(i + n - 1, i)) return;
    corners.push(i);
    const isLast = i === n - 1 && !isClosed;
    if (segment.kind === 'line' && !isLast && isOutsideCorner(i, i + 1)) {
      tips.push({ s: walk.starts[i]! + length / 2 });
    }
  });
  bulges.sort((a, b) => b.length - a.length || a.s - b.s);
  const out = bulges.slice(0, MOST_PLACES).map(({ s }) => placeOnLine(walk, s, smooth, around));
  for (const { s } of spread(tips)) out.push(placeOnLine(walk, s, smooth, around));
  for (const corner of spread(corners)) out.push(placeAtCorner(walk, corner, smooth, around));
  return out;
}

/** About {@link MOST_PLACES} of many, evenly spread. */
function spread<T>(all: readonly T[]): T[] {
  const step = Math.max(1, Math.floor(all.length / MOST_PLACES));
  return all.filter((_, k) => k % step === 0);
}

function placeOnLine(walk: Walk, s: number, smooth: Smoothness, around: Surroundings): EntryPlace {
  const { at, tangent } = placeAt(walk, s);
  const normal = { x: tangent.y, y: -tangent.x };
  return { s, at, base: at, normal, roomMm: roomAt(at, normal, around), ...smooth.around(s) };
}

/** The place at an arc length, entered from a given point straight on; `roomMm` is that of the point. */
export function placeTowards(walk: Walk, s: number, from: Point, roomMm: number): EntryPlace {
  const inside = walk.contour.isClosed ? ((s % walk.lengthMm) + walk.lengthMm) % walk.lengthMm : s;
  const { at } = placeAt(walk, inside);
  const length = distanceMm(from, at);
  const normal = length === 0 ? { x: 0, y: 0 } : { x: (from.x - at.x) / length, y: (from.y - at.y) / length };
  return { s: inside, at, base: at, normal, roomMm, ...new Smoothness(walk).around(inside) };
}

function placeAtCorner(walk: Walk, index: number, smooth: Smoothness, around: Surroundings): EntryPlace {
  const { segments } = walk.contour;
  const segment = segments[index]!;
  const s = walk.starts[index]! + Math.min(BESIDE_CORNER_MM, segmentLengthMm(segment) / 2);
  const a = tangentAt(segments[(index + segments.length - 1) % segments.length]!, 1);
  const b = tangentAt(segment, 0);
  const x = a.y + b.y;
  const y = -a.x - b.x;
  const length = Math.sqrt(x * x + y * y);
  // Where the contour turns straight back, the way out is straight on.
  const bisector = length < TOUCH_MM ? a : { x: x / length, y: y / length };
  const base = segment.from;
  // From the bisector round to square on the line that is entered: farther round, the lead-in would cut the corner off.
  const square = { x: b.y, y: -b.x };
  let normal = bisector;
  let roomMm = roomAt(base, bisector, around);
  for (const share of CORNER_DIRECTIONS) {
    const direction = between(bisector, square, share);
    const room = roomAt(base, direction, around);
    if (room > roomMm) [normal, roomMm] = [direction, room];
  }
  return { s, at: placeAt(walk, s).at, base, normal, roomMm, ...smooth.around(s) };
}

/** Directions tried besides the bisector of a corner, as shares of the way from it to square on the line entered. */
const CORNER_DIRECTIONS = [0.5, 1] as const;

function between(a: Point, b: Point, share: number): Point {
  const x = a.x * (1 - share) + b.x * share;
  const y = a.y * (1 - share) + b.y * share;
  const length = Math.sqrt(x * x + y * y);
  return length < TOUCH_MM ? a : { x: x / length, y: y / length };
}

/** Distance along the contour from an arc length to the nearest corner, mm; the whole length where there is none. */
export function cornerDistances(walk: Walk): (s: number) => number {
  const smooth = new Smoothness(walk);
  return (s) => {
    const rest = s % walk.lengthMm;
    const { smoothBeforeMm, smoothAfterMm } = smooth.around(rest < 0 ? rest + walk.lengthMm : rest);
    return Math.min(smoothBeforeMm, smoothAfterMm);
  };
}

type SmoothStretch = Pick<EntryPlace, 'smoothBeforeMm' | 'smoothAfterMm' | 'cornerBefore' | 'cornerAfter'>;

/** How far the contour goes on without a corner on either side of a place. */
class Smoothness {
  private readonly runs: readonly Run[];
  /** A closed contour without any corner. */
  readonly isWholeTurn: boolean;

  constructor(private readonly walk: Walk) {
    this.runs = smoothRuns(walk);
    const only = this.runs[0];
    // One run that starts at a corner is a drop shape; only the run without corners starts at 0 with none counted.
    this.isWholeTurn = walk.contour.isClosed && this.runs.length === 1 && only?.isWhole === true;
  }

  around(s: number): SmoothStretch {
    const { lengthMm } = this.walk;
    const run = this.isWholeTurn ? undefined : this.runs.find((r) => inRun(r, s, lengthMm));
    if (run === undefined)
      return { smoothBeforeMm: lengthMm, smoothAfterMm: lengthMm, cornerBefore: 0, cornerAfter: 0 };
    const before = distanceInto(run, s, lengthMm);
    return {
      smoothBeforeMm: before,
      smoothAfterMm: run.to - run.from - before,
      cornerBefore: run.cornerBefore,
      cornerAfter: run.cornerAfter,
    };
  }
}

function isSameCircle(a: { kind: string }, b: { kind: string }): boolean {
  const [p, q] = [a, b] as { centre?: Point; radiusMm?: number }[];
  if (p?.centre === undefined || q?.centre === undefined) return false;
  return distanceMm(p.centre, q.centre) < TOUCH_MM && Math.abs(p.radiusMm! - q.radiusMm!) < TOUCH_MM;
}

function inRun(run: Run, s: number, lengthMm: number): boolean {
  return (s >= run.from && s <= run.to) || (s + lengthMm >= run.from && s + lengthMm <= run.to);
}

function distanceInto(run: Run, s: number, lengthMm: number): number {
  return s >= run.from ? s - run.from : s + lengthMm - run.from;
}

/** Stretches without a corner. On a closed contour the last run may wrap past the start. */
function smoothRuns(walk: Walk): Run[] {
  const { segments, isClosed } = walk.contour;
  const n = segments.length;
  const corners: { s: number; share: number }[] = [];
  for (let i = isClosed ? 0 : 1; i < n; i++) {
    const turn = turnBetween(tangentAt(segments[(i + n - 1) % n]!, 1), tangentAt(segments[i]!, 0));
    // In an inside corner (right turn) the wire stops tan(turn / 2) offsets before the corner.
    if (Math.abs(turn) > SMOOTH_TURN_RAD)
      corners.push({ s: walk.starts[i]!, share: turn < 0 ? Math.tan(-turn / 2) : 0 });
  }
  if (corners.length === 0) return [{ from: 0, to: walk.lengthMm, cornerBefore: 0, cornerAfter: 0, isWhole: true }];
  if (!isClosed) {
    const ends = [{ s: 0, share: 0 }, ...corners, { s: walk.lengthMm, share: 0 }];
    return ends.slice(1).map((end, i) => runBetween(ends[i]!, end, end.s));
  }
  return corners.map((corner, i) => {
    const next = corners[(i + 1) % corners.length]!;
    return runBetween(corner, next, i + 1 < corners.length ? next.s : next.s + walk.lengthMm);
  });
}

function runBetween(a: { s: number; share: number }, b: { share: number }, to: number): Run {
  return { from: a.s, to, cornerBefore: a.share, cornerAfter: b.share, isWhole: false };
}

/** Signed turn from one direction to the next, rad, counter-clockwise positive. */
function turnBetween(a: Point, b: Point): number {
  return Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
}

/**
 * Radius of the largest disc on the side of `normal` that touches the line at `at` and has no other line inside: a disc
 * that is too large is shrunk until it passes through its nearest point, until nothing is nearer than its own radius.
 * With `upToMm` no larger disc is asked for, and that radius is the answer when it is free.
 */
export function roomAt(at: Point, normal: Point, around: Surroundings, upToMm = around.farMm): number {
  let radius = upToMm;
  for (let i = 0; i < MOST_SHRINKS; i++) {
    const centre = { x: at.x + normal.x * radius, y: at.y + normal.y * radius };
    const near = around.nearest(centre);
    if (near.distanceMm >= radius - TOUCH_MM) return radius >= around.farMm ? Number.POSITIVE_INFINITY : radius;
    const dx = near.point.x - at.x;
    const dy = near.point.y - at.y;
    const along = normal.x * dx + normal.y * dy;
    const squared = dx * dx + dy * dy;
    if (along <= 0 || squared === 0) return near.distanceMm;
    radius = squared / (2 * along);
  }
  return radius;
}
