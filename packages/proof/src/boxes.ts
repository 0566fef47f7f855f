import type { Box, Point, Segment } from '@gapwright/geometry';
import { closest } from './distance.js';

/** True when a disc of radius `margin` around the point does not meet the box. A corner is taken as square. */
export function isClearOfBox(b: Box, p: Point, margin: number): boolean {
  return p.x <= b.minX - margin || p.x >= b.maxX + margin || p.y <= b.minY - margin || p.y >= b.maxY + margin;
}

/** Sides of a box as segments. */
function sides(b: Box): Segment[] {
  const p = [
    { x: b.minX, y: b.minY },
    { x: b.maxX, y: b.minY },
    { x: b.maxX, y: b.maxY },
    { x: b.minX, y: b.maxY },
  ];
  return p.map((from, i) => ({ kind: 'line', from, to: p[(i + 1) % 4]! }));
}

/** Distance from a segment to a box, 0 when they meet, mm. */
export function distanceToBox(s: Segment, b: Box): number {
  const p = s.from;
  if (p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY) return 0;
  return Math.min(...sides(b).map((side) => closest(s, side).distanceMm));
}

/** Lower bound of the distance between two boxes, mm; negative when they overlap. */
export function gapBetween(a: Box, b: Box): number {
  return Math.max(b.minX - a.maxX, a.minX - b.maxX, b.minY - a.maxY, a.minY - b.maxY);
}
