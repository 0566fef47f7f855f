import type { Point, Segment } from '@gapwright/geometry';
import type { Frame } from './frame.js';

/** Decimals of a coordinate on paper: 0.1 µm, far below what any printer resolves. */
const DECIMALS = 4;

/** A paper length for SVG; never "-0". */
export function svgNumber(mm: number): string {
  const rounded = Number(mm.toFixed(DECIMALS));
  return String(rounded === 0 ? 0 : rounded);
}

export const svgPoint = (p: Point): string => `${svgNumber(p.x)} ${svgNumber(p.y)}`;

/**
 * Path data of connected segments on paper; arcs stay arcs. A segment that does not start where the last one ended
 * starts a new subpath. `close` ends every subpath with Z.
 */
export function pathData(segments: readonly Segment[], frame: Frame, close = false): string {
  const parts: string[] = [];
  let at = '';
  for (const s of segments) {
    const from = svgPoint(frame.toPaper(s.from));
    const to = svgPoint(frame.toPaper(s.to));
    if (from !== at) parts.push(close && parts.length > 0 ? `Z M${from}` : `M${from}`);
    if (s.kind === 'line') {
      parts.push(`L${to}`);
    } else {
      const r = svgNumber(s.radiusMm * frame.scale);
      // y points down on paper, so a counter-clockwise arc of the drawing runs against SVG's positive angle.
      // Segments never exceed half a turn, so the large-arc flag is always 0.
      parts.push(`A${r} ${r} 0 0 ${s.sweepRad > 0 ? 0 : 1} ${to}`);
    }
    at = to;
  }
  if (close && parts.length > 0) parts.push('Z');
  return parts.join(' ');
}
