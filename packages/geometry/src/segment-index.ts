import { BoxTree } from './box-tree.js';
import { type Pieces, packSegments } from './pieces.js';
import type { Box, Point } from './point.js';
import { nearestPoint, type Segment } from './segment.js';

/** The nearest place of an index to a point. */
export interface NearestPlace {
  /** Index into the segments the index was made of. */
  readonly segment: number;
  readonly point: Point;
  readonly distanceMm: number;
}

/** A packed box tree over segments for repeated questions about places. */
export class SegmentIndex {
  private readonly pieces: Pieces;
  private readonly tree = new BoxTree();

  constructor(readonly segments: readonly Segment[]) {
    this.pieces = packSegments(segments);
    this.tree.build(this.pieces);
  }

  /** The nearest segment and place on it; undefined when the index is empty. */
  nearest(p: Point): NearestPlace | undefined {
    const segment = this.tree.nearest(this.pieces, p.x, p.y);
    if (segment < 0) return undefined;
    const { point, distanceMm } = nearestPoint(this.segments[segment]!, p);
    return { segment, point, distanceMm };
  }

  /** Indices of segments whose boxes touch the given box, ascending. */
  search(box: Box): number[] {
    const found: number[] = [];
    this.tree.search(box.minX, box.minY, box.maxX, box.maxY, (i) => found.push(i));
    return found.sort((a, b) => a - b);
  }

  /** True when the point lies within `distanceMm` (exclusive) of some segment. */
  isWithin(p: Point, distanceMm: number): boolean {
    return this.tree.anyCloserThan(this.pieces, p.x, p.y, distanceMm) >= 0;
  }

  /**
   * How often the closed contours in the index wind round the point, counter-clockwise positive. Exact for arcs:
   * each counts as its chord plus the circular segment between the two. On the contour itself the answer is that of a
   * point next to it.
   */
  winding(p: Point): number {
    let winding = 0;
    const box: Box = { minX: p.x, minY: p.y, maxX: Infinity, maxY: p.y };
    this.tree.search(box.minX, box.minY, box.maxX, box.maxY, (i) => {
      winding += windingOf(this.segments[i]!, p);
    });
    return winding;
  }

  /** True when the point lies inside the closed contours of the index (winding number not 0). */
  isInside(p: Point): boolean {
    return this.winding(p) !== 0;
  }
}

export function indexSegments(segments: readonly Segment[]): SegmentIndex {
  return new SegmentIndex(segments);
}

/** Crossings of the ray from p to +x with the segment, signed: up counts 1, down -1. */
function windingOf(s: Segment, p: Point): number {
  const { from, to } = s;
  const left = (to.x - from.x) * (p.y - from.y) - (p.x - from.x) * (to.y - from.y);
  const isUp = from.y <= p.y && to.y > p.y;
  const isDown = to.y <= p.y && from.y > p.y;
  let winding = 0;
  if (isUp && left > 0) winding = 1;
  else if (isDown && left < 0) winding = -1;
  if (s.kind === 'line') return winding;
  const dx = p.x - s.centre.x;
  const dy = p.y - s.centre.y;
  if (dx * dx + dy * dy >= s.radiusMm * s.radiusMm) return winding;
  // A point on the chord goes with the side its crossing was counted for; a level chord counts as lying just below it.
  let isRight = left < 0;
  if (left === 0) isRight = isUp || (!isDown && to.x < from.x);
  if (s.sweepRad > 0) return isRight ? winding + 1 : winding;
  return isRight ? winding : winding - 1;
}
