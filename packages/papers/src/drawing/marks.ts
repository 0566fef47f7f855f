import type { Box, Point, Segment } from '@gapwright/geometry';
import { pointAt, segmentLengthMm, tangentAt } from '@gapwright/geometry';
import type { Frame } from './frame.js';
import { ACCENT, HALO, INK, INK_SOFT } from './ink.js';
import { svgNumber as n, svgPoint } from './svg-path.js';

/** Distance between hatch lines, mm on paper. */
const HATCH_MM = 1.6;

export interface StrokeStyle {
  readonly widthMm: number;
  readonly colour: string;
  readonly dash?: string;
}

export function strokePath(d: string, style: StrokeStyle, extra = ''): string {
  const dash = style.dash === undefined ? '' : ` stroke-dasharray="${style.dash}"`;
  return (
    `<path d="${d}" fill="none" stroke="${style.colour}" stroke-width="${style.widthMm}"${dash} ` +
    `stroke-linejoin="round"${extra}/>`
  );
}

export function line(a: Point, b: Point, style: StrokeStyle): string {
  return strokePath(`M${svgPoint(a)} L${svgPoint(b)}`, style);
}

/** Top left corner and size of a drawing box on paper. */
export function paperRect(box: Box, frame: Frame): { x: number; y: number; width: number; height: number } {
  const a = frame.toPaper({ x: box.minX, y: box.maxY });
  const b = frame.toPaper({ x: box.maxX, y: box.minY });
  return { x: a.x, y: a.y, width: b.x - a.x, height: b.y - a.y };
}

/** A box with a border and hatch lines at 45°, each cut exactly at the border. */
export function hatchedBox(box: Box, frame: Frame): string {
  const { x, y, width, height } = paperRect(box, frame);
  const lines: string[] = [];
  for (let c = HATCH_MM / 2; c < width + height; c += HATCH_MM) {
    // Points of the line u + v = c inside 0 ≤ u ≤ width, 0 ≤ v ≤ height.
    const u0 = Math.max(0, c - height);
    const u1 = Math.min(width, c);
    lines.push(`M${n(x + u0)} ${n(y + c - u0)} L${n(x + u1)} ${n(y + c - u1)}`);
  }
  const border =
    `<rect x="${n(x)}" y="${n(y)}" width="${n(width)}" height="${n(height)}" fill="${HALO}" ` +
    `stroke="${INK_SOFT}" stroke-width="0.25"/>`;
  return border + strokePath(lines.join(' '), { widthMm: 0.14, colour: INK_SOFT });
}

export function plateOutline(box: Box, frame: Frame): string {
  const { x, y, width, height } = paperRect(box, frame);
  return (
    `<rect x="${n(x)}" y="${n(y)}" width="${n(width)}" height="${n(height)}" fill="none" stroke="${INK_SOFT}" ` +
    `stroke-width="0.25" stroke-dasharray="3 1"/>`
  );
}

/** A small solid arrow head in the middle of a path, pointing along travel. */
export function travelArrow(path: readonly Segment[], frame: Frame): string {
  let total = 0;
  for (const s of path) total += segmentLengthMm(s);
  // A third of the way: clear of the lead-in at the start and the tab near the end.
  let left = total / 3;
  for (const s of path) {
    const length = segmentLengthMm(s);
    if (left <= length && length > 0) {
      const along = tangentAt(s, left / length);
      return arrowHead(frame.toPaper(pointAt(s, left / length)), { x: along.x, y: -along.y }, 2.2, INK);
    }
    left -= length;
  }
  return '';
}

/** A triangle with its middle at `at`; `along` is a unit vector on paper. */
export function arrowHead(at: Point, along: Point, sizeMm: number, colour: string): string {
  const half = sizeMm / 2;
  const tip = { x: at.x + along.x * half, y: at.y + along.y * half };
  const wing = (side: number): Point => ({
    x: at.x - along.x * half - along.y * side * sizeMm * 0.32,
    y: at.y - along.y * half + along.x * side * sizeMm * 0.32,
  });
  return `<path d="M${svgPoint(tip)} L${svgPoint(wing(1))} L${svgPoint(wing(-1))} Z" fill="${colour}"/>`;
}

/** Circle in true size (never under what the eye finds) with a centre cross; a diamond when the cut starts at the edge. */
export function startHole(at: Point, diameterMm: number, fromEdge: boolean, frame: Frame): string {
  const c = frame.toPaper(at);
  const r = Math.max((diameterMm / 2) * frame.scale, 0.7);
  const arm = r + 0.9;
  const cross = strokePath(
    `M${n(c.x - arm)} ${n(c.y)} L${n(c.x + arm)} ${n(c.y)} M${n(c.x)} ${n(c.y - arm)} L${n(c.x)} ${n(c.y + arm)}`,
    { widthMm: 0.15, colour: INK },
  );
  if (fromEdge) {
    const d = `M${n(c.x - r)} ${n(c.y)} L${n(c.x)} ${n(c.y - r)} L${n(c.x + r)} ${n(c.y)} L${n(c.x)} ${n(c.y + r)} Z`;
    return `<path d="${d}" fill="${HALO}" stroke="${INK}" stroke-width="0.3"/>${cross}`;
  }
  return `<circle cx="${n(c.x)}" cy="${n(c.y)}" r="${n(r)}" fill="${HALO}" stroke="${INK}" stroke-width="0.3"/>${cross}`;
}

/** Both ends of a tab as short bars across the contour, and the tab itself as a heavy line. */
export function tabMark(stretch: readonly Segment[], d: string, frame: Frame): string {
  const first = stretch[0];
  const last = stretch[stretch.length - 1];
  if (first === undefined || last === undefined) return '';
  const bar = (s: Segment, t: number): string => {
    const p = frame.toPaper(pointAt(s, t));
    const along = tangentAt(s, t);
    // Across the contour on paper: the tangent (x, −y) turned a quarter.
    const across = { x: along.y * 1.5, y: along.x * 1.5 };
    return line({ x: p.x - across.x, y: p.y - across.y }, { x: p.x + across.x, y: p.y + across.y }, TAB_END);
  };
  return strokePath(d, { widthMm: 1.1, colour: ACCENT }) + bar(first, 0) + bar(last, 1);
}

const TAB_END: StrokeStyle = { widthMm: 0.35, colour: ACCENT };

/** Zero of the coordinates: an L of two arrows, x to the right and y up. */
export function datumMark(at: Point): string {
  const reach = 6;
  const style = { widthMm: 0.25, colour: INK };
  return (
    line(at, { x: at.x + reach, y: at.y }, style) +
    line(at, { x: at.x, y: at.y - reach }, style) +
    arrowHead({ x: at.x + reach, y: at.y }, { x: 1, y: 0 }, 1.6, INK) +
    arrowHead({ x: at.x, y: at.y - reach }, { x: 0, y: -1 }, 1.6, INK) +
    `<circle cx="${n(at.x)}" cy="${n(at.y)}" r="0.6" fill="${HALO}" stroke="${INK}" stroke-width="0.25"/>`
  );
}

/** Thin helper line of a dimension. */
export const HELPER: StrokeStyle = { widthMm: 0.15, colour: INK_SOFT };

/** Radius of the ring around a place, mm on paper: larger than a corner, smaller than a tooth. */
export const RING_MM = 1.1;

export function ring(at: Point): string {
  return `<circle cx="${n(at.x)}" cy="${n(at.y)}" r="${RING_MM}" fill="none" stroke="${ACCENT}" stroke-width="0.3"/>`;
}
