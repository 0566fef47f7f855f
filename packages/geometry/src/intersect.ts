import { Crossings, crossPieces } from './crossings.js';
import { Pieces, STRIDE } from './pieces.js';
import type { Point } from './point.js';
import type { Segment } from './segment.js';

/**
 * How two segments meet: `none`, `crossing` (one or two clean points), `touching` (carriers tangent within the merge
 * length, or one end resting on the other under a grazing angle) or `overlapping` (a shared stretch; the points are its
 * two ends).
 */
export interface Intersections {
  readonly kind: 'none' | 'crossing' | 'touching' | 'overlapping';
  readonly points: readonly Point[];
}

const NONE: Intersections = { kind: 'none', points: [] };
const pair = new Pieces(2);
const crossings = new Crossings();

/** Where two segments meet. Ends within `mergeMm` of a crossing count as reaching it. */
export function intersectSegments(a: Segment, b: Segment, mergeMm: number): Intersections {
  pair.clear(2);
  pair.pushSegment(a);
  pair.pushSegment(b);
  crossPieces(pair.data, 0, pair.data, 1, mergeMm, crossings);
  if (crossings.count === 0) return NONE;
  const points: Point[] = [];
  for (let k = 0; k < crossings.count; k++) points.push({ x: crossings.x[k]!, y: crossings.y[k]! });
  if (crossings.isOverlapping) return { kind: 'overlapping', points };
  if (!crossings.isNearTangent || isCleanCross(a, b)) return { kind: 'crossing', points };
  // Carriers tangent within the merge length cross twice near the touching point or not at all: report that point.
  return { kind: 'touching', points: isConcentric() ? points : [middleOf(points)] };
}

/** Lines under the smallest angle still cross in one clean point when neither end rests on the other. */
function isCleanCross(a: Segment, b: Segment): boolean {
  if (a.kind === 'arc' || b.kind === 'arc') return false;
  const p = { x: crossings.x[0]!, y: crossings.y[0]! };
  return [a.from, a.to, b.from, b.to].every((e) => e.x !== p.x || e.y !== p.y);
}

/** Two arcs of one circle that meet end to end have up to two separate touching points. */
function isConcentric(): boolean {
  const d = pair.data;
  return (
    d[7] !== 0 &&
    d[STRIDE + 7] !== 0 &&
    Math.abs(d[4]! - d[STRIDE + 4]!) + Math.abs(d[5]! - d[STRIDE + 5]!) <= 1e-3 * d[6]! &&
    Math.abs(d[6]! - d[STRIDE + 6]!) <= 1e-3 * d[6]!
  );
}

function middleOf(points: readonly Point[]): Point {
  let x = 0;
  let y = 0;
  for (const p of points) {
    x += p.x;
    y += p.y;
  }
  return { x: x / points.length, y: y / points.length };
}
