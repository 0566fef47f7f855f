import {
  type Contour,
  distanceMm,
  type Point,
  pointAt,
  type Segment,
  segmentLengthMm,
  tangentAt,
} from '@gapwright/geometry';

/** A block of a contour that a controller cannot compensate: nothing of it is left between the wire's paths beside it. */
export interface TightBlock {
  /** Index of the segment in the contour. */
  readonly segment: number;
  /** Middle of the block. */
  readonly at: Point;
  readonly lengthMm: number;
  /** Length a block with these corners at its ends must have for the offset; Infinity when no length helps. */
  readonly neededMm: number;
}

/** Offset paths whose ends lie this near are one path, mm: tangent joints with the rounding of drawings and fits. */
const JOINT_GAP_MM = 5e-4;
/** What must be left of a block, mm: rounding of program text to 1 µm moves either end by half of that and more at sharp corners. */
const LEAST_LEFT_MM = 0.002;
/** A point lies on a path within this, mm: rounding of the intersections only. */
const ON_PATH_MM = 1e-7;

/** Where the wire's path along a block begins and ends, as fractions of the block: 0 and 1 without inside corners. */
interface Kept {
  start: number;
  end: number;
}

/**
 * The blocks that do not survive compensation with the wire `offsetMm` to the right of travel (the part is left). At an
 * inside corner a controller shortens both blocks to where their offset paths meet; a block shortened at both ends, or at
 * one by more than it has, loses its direction. Arcs smaller than the offset are told apart from these and left out.
 */
export function tightBlocks(c: Contour, offsetMm: number): TightBlock[] {
  const { segments } = c;
  const n = segments.length;
  const paths = segments.map((s) => wirePath(s, offsetMm));
  const kept: Kept[] = segments.map(() => ({ start: 0, end: 1 }));
  const bad = new Set<number>();
  for (let i = c.isClosed ? 0 : 1; i < n; i++) {
    const h = (i + n - 1) % n;
    const a = paths[h]!;
    const b = paths[i]!;
    if (a === null || b === null || !isInsideCorner(segments[h]!, segments[i]!)) continue;
    if (distanceMm(a.to, b.from) <= JOINT_GAP_MM) continue;
    const meet = meetingPlace(a, b);
    if (meet === null) {
      // The shorter one is what the wire runs out of.
      bad.add(segmentLengthMm(segments[h]!) < segmentLengthMm(segments[i]!) ? h : i);
      continue;
    }
    kept[h]!.end = fractionOn(a, meet);
    kept[i]!.start = fractionOn(b, meet);
  }
  kept.forEach(({ start, end }, i) => {
    const path = paths[i]!;
    if (path === null || (start === 0 && end === 1)) return;
    if ((end - start) * segmentLengthMm(path) < LEAST_LEFT_MM) bad.add(i);
  });
  return [...bad]
    .sort((a, b) => a - b)
    .map((segment): TightBlock => {
      const s = segments[segment]!;
      const lengthMm = segmentLengthMm(s);
      return { segment, at: pointAt(s, 0.5), lengthMm, neededMm: neededLength(c, segment, offsetMm) };
    });
}

/** The wire's path beside one block; null for an inside arc that shrinks to nothing. */
function wirePath(s: Segment, offsetMm: number): Segment | null {
  if (s.kind === 'line') {
    const { x, y } = tangentAt(s, 0);
    const move = (p: Point): Point => ({ x: p.x + y * offsetMm, y: p.y - x * offsetMm });
    return { kind: 'line', from: move(s.from), to: move(s.to) };
  }
  // Right of a clockwise arc is towards its centre.
  const radiusMm = s.radiusMm + Math.sign(s.sweepRad) * offsetMm;
  if (radiusMm <= 0) return null;
  const k = radiusMm / s.radiusMm;
  const scale = (p: Point): Point => ({
    x: s.centre.x + (p.x - s.centre.x) * k,
    y: s.centre.y + (p.y - s.centre.y) * k,
  });
  return { ...s, from: scale(s.from), to: scale(s.to), radiusMm };
}

/** Turn to the right at the joint of two blocks, rad; negative to the left. */
function turnRightRad(a: Segment, b: Segment): number {
  const p = tangentAt(a, 1);
  const q = tangentAt(b, 0);
  return -Math.atan2(p.x * q.y - p.y * q.x, p.x * q.x + p.y * q.y);
}

function isInsideCorner(a: Segment, b: Segment): boolean {
  return turnRightRad(a, b) > 0;
}

/** Where the paths of two neighbours meet, the place nearest to the corner; null when they do not. */
function meetingPlace(a: Segment, b: Segment): Point | null {
  let best: Point | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const p of commonPoints(a, b)) {
    const f = fractionOn(a, p);
    const g = fractionOn(b, p);
    const slackA = ON_PATH_MM / segmentLengthMm(a);
    const slackB = ON_PATH_MM / segmentLengthMm(b);
    if (f < -slackA || f > 1 + slackA || g < -slackB || g > 1 + slackB) continue;
    const d = distanceMm(p, a.to) + distanceMm(p, b.from);
    if (d < least) [best, least] = [p, d];
  }
  return best;
}

/** Points of the endless line or whole circle of one block on that of another. */
function commonPoints(a: Segment, b: Segment): Point[] {
  if (a.kind === 'line') {
    const u = tangentAt(a, 0);
    if (b.kind === 'arc') {
      const along = (b.centre.x - a.from.x) * u.x + (b.centre.y - a.from.y) * u.y;
      const foot = { x: a.from.x + u.x * along, y: a.from.y + u.y * along };
      return onBothSides(foot, u, b.radiusMm, distanceMm(foot, b.centre));
    }
    const v = tangentAt(b, 0);
    const cross = u.x * v.y - u.y * v.x;
    if (cross === 0) return [];
    const t = ((b.from.x - a.from.x) * v.y - (b.from.y - a.from.y) * v.x) / cross;
    return [{ x: a.from.x + u.x * t, y: a.from.y + u.y * t }];
  }
  if (b.kind === 'line') return commonPoints(b, a);
  const apart = distanceMm(a.centre, b.centre);
  if (apart === 0) return [];
  const w = { x: (b.centre.x - a.centre.x) / apart, y: (b.centre.y - a.centre.y) / apart };
  const along = (apart * apart + a.radiusMm * a.radiusMm - b.radiusMm * b.radiusMm) / (2 * apart);
  const foot = { x: a.centre.x + w.x * along, y: a.centre.y + w.y * along };
  return onBothSides(foot, { x: -w.y, y: w.x }, a.radiusMm, Math.abs(along));
}

/** The two points of a circle on a line through `foot`, the line's point nearest to the centre; none when it passes by. */
function onBothSides(foot: Point, u: Point, radiusMm: number, awayMm: number): Point[] {
  const squared = (radiusMm - awayMm) * (radiusMm + awayMm);
  if (squared < 0) return awayMm - radiusMm <= ON_PATH_MM ? [foot] : [];
  const h = Math.sqrt(squared);
  return [
    { x: foot.x - u.x * h, y: foot.y - u.y * h },
    { x: foot.x + u.x * h, y: foot.y + u.y * h },
  ];
}

/** Fraction of a block's length at a point of its line or circle; below 0 before it, above 1 behind it. */
function fractionOn(s: Segment, p: Point): number {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const squared = dx * dx + dy * dy;
    return squared === 0 ? 0 : ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / squared;
  }
  const ax = s.from.x - s.centre.x;
  const ay = s.from.y - s.centre.y;
  const bx = p.x - s.centre.x;
  const by = p.y - s.centre.y;
  const turn = Math.atan2(ax * by - ay * bx, ax * bx + ay * by) * Math.sign(s.sweepRad);
  const sweep = Math.abs(s.sweepRad);
  // Beyond the end is nearer than before the start for the far half of what the arc leaves of its circle.
  const wrapped = turn < (sweep - 2 * Math.PI) / 2 ? turn + 2 * Math.PI : turn;
  return wrapped / sweep;
}

/** What the corners at both ends take off, with arcs taken by their direction at the corner. */
function neededLength(c: Contour, i: number, offsetMm: number): number {
  const { segments, isClosed } = c;
  const n = segments.length;
  const takes = (a: number, b: number): number => {
    if (!isClosed && b === 0) return 0;
    const turn = turnRightRad(segments[a]!, segments[b]!);
    return turn <= 0 ? 0 : offsetMm * Math.tan(turn / 2);
  };
  return takes((i + n - 1) % n, i) + takes(i, (i + 1) % n) + LEAST_LEFT_MM;
}

/** The largest offset up to `mostMm` at which every block survives, mm, to {@link LEAST_LEFT_MM} or better. */
export function largestPassableOffset(c: Contour, mostMm: number): number {
  let low = 0;
  let high = mostMm;
  while (high - low > LEAST_LEFT_MM / 4) {
    const middle = (low + high) / 2;
    if (tightBlocks(c, middle).length === 0) low = middle;
    else high = middle;
  }
  return low;
}
