import type { Contour, Point, Segment } from '@gapwright/geometry';

/** Maps drawing mm (y up) to picture units (y down) with one scale for both axes. */
export interface PictureMap {
  readonly scale: number;
  /** Picture place of the drawing's origin. */
  readonly originX: number;
  readonly originY: number;
}

export function toPicture(map: PictureMap, p: Point): Point {
  return { x: map.originX + p.x * map.scale, y: map.originY - p.y * map.scale };
}

/** SVG path data of a contour, with arcs as arcs. `decimals` are those of the picture's units. */
export function pathData(c: Contour, map: PictureMap, decimals = 3): string {
  const first = c.segments[0];
  if (first === undefined) return '';
  const parts = [`M${pair(toPicture(map, first.from), decimals)}`];
  for (const s of c.segments) parts.push(segmentData(s, map, decimals));
  if (c.isClosed) parts.push('Z');
  return parts.join('');
}

function segmentData(s: Segment, map: PictureMap, decimals: number): string {
  const to = pair(toPicture(map, s.to), decimals);
  if (s.kind === 'line') return `L${to}`;
  const radius = numberText(s.radiusMm * map.scale, decimals);
  // At most half a turn, so never the long way round. Counter-clockwise with y up is what SVG, with y down, calls 0.
  return `A${radius} ${radius} 0 0 ${s.sweepRad > 0 ? 0 : 1} ${to}`;
}

function pair(p: Point, decimals: number): string {
  return `${numberText(p.x, decimals)} ${numberText(p.y, decimals)}`;
}

/** A number with at most `decimals` decimals, without trailing zeros and without a negative zero. */
export function numberText(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  const short = text.includes('.') ? text.replace(/\.?0+$/, '') : text;
  return short === '-0' ? '0' : short;
}
