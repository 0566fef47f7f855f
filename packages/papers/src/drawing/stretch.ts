import { type Contour, nearestPoint, type Point, type Segment, segmentLengthMm } from '@gapwright/geometry';

/** A place on a contour: which segment, and the length from the contour's start to it, mm. */
interface OnContour {
  readonly index: number;
  readonly lengthMm: number;
}

/** The piece of a segment between two fractions of its length. */
function cut(s: Segment, from: number, to: number, a: Point, b: Point): Segment {
  if (s.kind === 'line') return { kind: 'line', from: a, to: b };
  return { ...s, from: a, to: b, sweepRad: s.sweepRad * (to - from) };
}

/** Fraction of the segment's length at a point lying on it. */
function fractionAt(s: Segment, p: Point): number {
  if (s.kind === 'line') {
    const dx = s.to.x - s.from.x;
    const dy = s.to.y - s.from.y;
    const squared = dx * dx + dy * dy;
    return squared === 0 ? 0 : Math.min(1, Math.max(0, ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / squared));
  }
  const start = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const here = Math.atan2(p.y - s.centre.y, p.x - s.centre.x);
  const side = s.sweepRad >= 0 ? 1 : -1;
  const turn = ((((here - start) * side) % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI);
  const fraction = turn / Math.abs(s.sweepRad);
  // Just before the start the angle wraps to nearly a full turn.
  return fraction > 1 ? (2 * Math.PI - turn < turn - Math.abs(s.sweepRad) ? 0 : 1) : fraction;
}

function locate(c: Contour, p: Point): OnContour & { readonly point: Point; readonly fraction: number } {
  let best = { index: 0, lengthMm: 0, point: p, fraction: 0 };
  let bestDistance = Number.POSITIVE_INFINITY;
  let before = 0;
  for (const [index, s] of c.segments.entries()) {
    const near = nearestPoint(s, p);
    const length = segmentLengthMm(s);
    if (near.distanceMm < bestDistance) {
      const fraction = fractionAt(s, near.point);
      bestDistance = near.distanceMm;
      best = { index, lengthMm: before + fraction * length, point: near.point, fraction };
    }
    before += length;
  }
  return best;
}

/**
 * The stretch of a closed contour between two points on it, the short way round (a tab is always the short way);
 * for an open contour the only way. Points off the contour are taken to its nearest place.
 */
export function stretchBetween(c: Contour, from: Point, to: Point): readonly Segment[] {
  if (c.segments.length === 0) return [];
  let a = locate(c, from);
  let b = locate(c, to);
  let total = 0;
  for (const s of c.segments) total += segmentLengthMm(s);
  const ahead = b.lengthMm - a.lengthMm;
  const forward = c.isClosed ? (ahead + total) % total : ahead;
  if (c.isClosed ? forward > total / 2 : forward < 0) [a, b] = [b, a];
  const first = c.segments[a.index]!;
  if (a.index === b.index && b.lengthMm >= a.lengthMm) return [cut(first, a.fraction, b.fraction, a.point, b.point)];
  const out: Segment[] = [cut(first, a.fraction, 1, a.point, first.to)];
  const count = c.segments.length;
  for (let i = (a.index + 1) % count; i !== b.index; i = (i + 1) % count) out.push(c.segments[i]!);
  const last = c.segments[b.index]!;
  out.push(cut(last, 0, b.fraction, last.from, b.point));
  return out;
}
