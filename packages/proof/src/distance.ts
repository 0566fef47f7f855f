import { isWithinSweep, nearestPoint, type Point, type Segment } from '@gapwright/geometry';
import { crossings } from './offset-block.js';

/** Distance from a point to a segment, mm; the same as `nearestPoint` without making points. */
export function distanceTo(s: Segment, x: number, y: number): number {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const px = x - s.from.x;
    const py = y - s.from.y;
    const squared = dx * dx + dy * dy;
    let t = squared === 0 ? 0 : (px * dx + py * dy) / squared;
    t = Math.min(1, Math.max(0, t));
    const ex = px - dx * t;
    const ey = py - dy * t;
    return Math.sqrt(ex * ex + ey * ey);
  }
  if (isWithinSweep(s, x, y)) {
    const cx = x - s.centre.x;
    const cy = y - s.centre.y;
    return Math.abs(Math.sqrt(cx * cx + cy * cy) - s.radiusMm);
  }
  return Math.min(length(x - s.from.x, y - s.from.y), length(x - s.to.x, y - s.to.y));
}

function length(x: number, y: number): number {
  return Math.sqrt(x * x + y * y);
}

export interface Meeting {
  readonly distanceMm: number;
  /** Place on the first segment. */
  readonly onFirst: Point;
  /** Place on the second segment. */
  readonly onSecond: Point;
}

/** Least distance between two segments with the places where it stands: end points, feet of centres, crossings. */
export function closest(a: Segment, b: Segment): Meeting {
  const crossing = crossings(a, b)[0];
  if (crossing !== undefined) return { distanceMm: 0, onFirst: crossing, onSecond: crossing };
  let best: Meeting = { distanceMm: Number.POSITIVE_INFINITY, onFirst: a.from, onSecond: b.from };
  const tryFirst = (p: Point): void => {
    const d = distanceTo(b, p.x, p.y);
    if (d < best.distanceMm) best = { distanceMm: d, onFirst: p, onSecond: nearestPoint(b, p).point };
  };
  const trySecond = (p: Point): void => {
    const d = distanceTo(a, p.x, p.y);
    if (d < best.distanceMm) best = { distanceMm: d, onFirst: nearestPoint(a, p).point, onSecond: p };
  };
  tryFirst(a.from);
  tryFirst(a.to);
  trySecond(b.from);
  trySecond(b.to);
  // Inner extremes lie on the common normal: it runs through the centre of every arc taking part.
  if (a.kind === 'line' && b.kind === 'arc') tryFirst(nearestPoint(a, b.centre).point);
  else if (a.kind === 'arc' && b.kind === 'line') trySecond(nearestPoint(b, a.centre).point);
  else if (a.kind === 'arc' && b.kind === 'arc') {
    const dx = b.centre.x - a.centre.x;
    const dy = b.centre.y - a.centre.y;
    const e = length(dx, dy);
    if (e > 0) {
      for (const k of [a.radiusMm / e, -a.radiusMm / e]) {
        if (isWithinSweep(a, a.centre.x + dx * k, a.centre.y + dy * k)) {
          tryFirst({ x: a.centre.x + dx * k, y: a.centre.y + dy * k });
        }
      }
    }
  }
  return best;
}

/** Height of the bow of an arc over a chord of half its length `halfMm`, from above, mm. */
function bowMm(halfMm: number, curvaturePerMm: number): number {
  return (halfMm * halfMm * curvaturePerMm) / 2;
}

/** How far the direction to (x, y) lies inside the sector of an arc: least distance to the two bounding rays, negative outside, mm. */
function insideSectorMm(s: Segment & { kind: 'arc' }, x: number, y: number): number {
  const sign = s.sweepRad > 0 ? 1 : -1;
  const px = x - s.centre.x;
  const py = y - s.centre.y;
  const fx = s.from.x - s.centre.x;
  const fy = s.from.y - s.centre.y;
  const tx = s.to.x - s.centre.x;
  const ty = s.to.y - s.centre.y;
  const a = (sign * (fx * py - fy * px)) / s.radiusMm;
  const b = (sign * (px * ty - py * tx)) / s.radiusMm;
  return Math.min(a, b);
}

/** A place this far outside an arc's sector sees the arc's end, not the circle; over a gap of 0.05 mm that differs by 0.003 µm. */
const SECTOR_SLACK_MM = 5e-4;

/** A stretch of a contour segment: its ends and middle and half its length. `piece` is the whole segment. */
export interface Stretch {
  readonly piece: Segment;
  readonly a: Point;
  readonly middle: Point;
  readonly b: Point;
  readonly halfMm: number;
}

/** An upper bound, mm, of the distance from the places of a stretch to one segment of the path. */
export function largestDistance(s: Stretch, path: Segment): number {
  const da = distanceTo(path, s.a.x, s.a.y);
  const db = distanceTo(path, s.b.x, s.b.y);
  const ends = Math.max(da, db);
  // Distance changes by at most the way walked.
  const anyway = (da + db) / 2 + s.halfMm;
  if (s.piece.kind === 'line') {
    // The distance to a straight piece is convex along a straight stretch.
    if (path.kind === 'line') return ends;
  }
  const curvature = s.piece.kind === 'arc' ? 1 / s.piece.radiusMm : 0;
  if (path.kind === 'line') return Math.min(anyway, ends + bowMm(s.halfMm, curvature));
  const { centre: c, radiusMm: r } = path;
  const inA = insideSectorMm(path, s.a.x, s.a.y);
  const inM = insideSectorMm(path, s.middle.x, s.middle.y);
  const inB = insideSectorMm(path, s.b.x, s.b.y);
  const bow = bowMm(s.halfMm / 2, curvature);
  const eccentric = s.piece.kind === 'arc' ? length(c.x - s.piece.centre.x, c.y - s.piece.centre.y) : 0;
  const isConcentric = s.piece.kind === 'arc' && eccentric <= SECTOR_SLACK_MM;
  if (Math.min(inA, inM, inB) >= -SECTOR_SLACK_MM && (bow <= SECTOR_SLACK_MM || isConcentric)) {
    // The whole stretch sees the circle: distances from its centre range between known extremes.
    const ra = length(s.a.x - c.x, s.a.y - c.y);
    const rb = length(s.b.x - c.x, s.b.y - c.y);
    let near = Math.min(ra, rb);
    let far = Math.max(ra, rb);
    if (s.piece.kind === 'line') {
      near = distanceTo({ kind: 'line', from: s.a, to: s.b }, c.x, c.y);
    } else if (eccentric > 0) {
      const { centre: o, radiusMm: own } = s.piece;
      const half = s.halfMm / own;
      const toMiddle = Math.atan2(s.middle.y - o.y, s.middle.x - o.x);
      const toCentre = Math.atan2(c.y - o.y, c.x - o.x);
      if (Math.cos(toMiddle - toCentre) >= Math.cos(half)) near = Math.abs(own - eccentric);
      if (-Math.cos(toMiddle - toCentre) >= Math.cos(half)) far = own + eccentric;
    }
    return Math.max(Math.abs(near - r), Math.abs(far - r));
  }
  // Outside the circle the second derivative is bounded by the stretch's own curvature, inside also by 1 / distance from the centre.
  const sameEnd =
    length(s.a.x - path.from.x, s.a.y - path.from.y) < length(s.a.x - path.to.x, s.a.y - path.to.y) ===
    length(s.b.x - path.from.x, s.b.y - path.from.y) < length(s.b.x - path.to.x, s.b.y - path.to.y);
  const least = length(s.middle.x - c.x, s.middle.y - c.y) - s.halfMm;
  if (!sameEnd || least <= 0) return anyway;
  return Math.min(anyway, ends + bowMm(s.halfMm, curvature + 1 / least));
}
