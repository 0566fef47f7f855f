import {
  type Contour,
  lengthMm,
  type Point,
  pointAt,
  type Segment,
  segmentLengthMm,
  tangentAt,
} from '@gapwright/geometry';

/** A contour measured by arc length, so that places on it are single numbers (mm from the start of its first segment). */
export interface Walk {
  readonly contour: Contour;
  /** Arc length at the start of each segment, and the whole length at the end. */
  readonly starts: Float64Array;
  readonly lengthMm: number;
}

/** Pieces shorter than this are left out of a path: below the resolution (0.1 µm) of any program text. */
const SHORTEST_PIECE_MM = 1e-7;

export function walkOf(contour: Contour): Walk {
  const starts = new Float64Array(contour.segments.length + 1);
  contour.segments.forEach((s, i) => {
    starts[i + 1] = starts[i]! + segmentLengthMm(s);
  });
  return { contour, starts, lengthMm: contour.segments.length === 0 ? 0 : lengthMm(contour) };
}

/** Index of the segment that holds arc length `s` (0 ≤ s ≤ length). */
function segmentAt(walk: Walk, s: number): number {
  let low = 0;
  let high = walk.contour.segments.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (walk.starts[middle]! <= s) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** Place on the contour with the unit direction of travel there. Closed contours wrap; open ones end at their ends. */
export function placeAt(walk: Walk, s: number): { readonly at: Point; readonly tangent: Point } {
  const inside = wrap(walk, s);
  const index = segmentAt(walk, inside);
  const segment = walk.contour.segments[index]!;
  const length = walk.starts[index + 1]! - walk.starts[index]!;
  const t = length === 0 ? 0 : (inside - walk.starts[index]!) / length;
  return { at: pointAt(segment, t), tangent: tangentAt(segment, t) };
}

function wrap(walk: Walk, s: number): number {
  if (!walk.contour.isClosed) return Math.min(walk.lengthMm, Math.max(0, s));
  const rest = s % walk.lengthMm;
  return rest < 0 ? rest + walk.lengthMm : rest;
}

/** The part of a segment between fractions `from` and `to`; whole segments are returned as they are. */
function partOfSegment(s: Segment, from: number, to: number): Segment {
  if (from <= 0 && to >= 1) return s;
  const a = pointAt(s, from);
  const b = pointAt(s, to);
  if (s.kind === 'line') return { kind: 'line', from: a, to: b };
  return {
    kind: 'arc',
    from: a,
    to: b,
    centre: s.centre,
    radiusMm: s.radiusMm,
    sweepRad: s.sweepRad * (Math.min(1, to) - Math.max(0, from)),
  };
}

/**
 * The path along the contour from arc length `from` on for `length` mm, in the contour's direction. On closed contours
 * it may run past the start (more than one turn if asked); on open ones it is cut off at the ends.
 */
export function pathAlong(walk: Walk, from: number, length: number): Segment[] {
  const out: Segment[] = [];
  const { segments, isClosed } = walk.contour;
  let s = wrap(walk, from);
  let left = isClosed ? length : Math.min(length, walk.lengthMm - s);
  let index = segmentAt(walk, s);
  while (left > SHORTEST_PIECE_MM) {
    const start = walk.starts[index]!;
    const whole = walk.starts[index + 1]! - start;
    const rest = start + whole - s;
    const take = Math.min(rest, left);
    if (take > SHORTEST_PIECE_MM) {
      const t0 = (s - start) / whole;
      const t1 = take === rest ? 1 : (s - start + take) / whole;
      out.push(partOfSegment(segments[index]!, t0, t1));
    }
    left -= take;
    index++;
    if (index === segments.length) {
      if (!isClosed) break;
      index = 0;
    }
    s = walk.starts[index]!;
  }
  return joined(out);
}

/** Dropped hair-thin pieces leave hair-thin gaps: every piece starts exactly where the one before ends. */
function joined(pieces: Segment[]): Segment[] {
  for (let i = 1; i < pieces.length; i++) {
    const from = pieces[i - 1]!.to;
    const piece = pieces[i]!;
    if (piece.from.x !== from.x || piece.from.y !== from.y) pieces[i] = { ...piece, from };
  }
  return pieces;
}
