import { type Problem, problem } from '@gapwright/base';
import { type Box, type Contour, contourBox, lengthMm, nearestPoint, type Point, pointAt } from '@gapwright/geometry';
import type { ProfileContour } from './profile-drawing.js';

/** Most places of a contour that are compared with another one whose box and length already agree. */
const MOST_PLACES = 24;

interface Measured {
  readonly c: ProfileContour;
  readonly box: Box;
  readonly length: number;
  readonly index: number;
}

/**
 * Contours that lie on one another within `nearMm` without being equal, as a second copy of a part does: one warning
 * per pair. Equal pieces are removed when contours are chained; these are left, for either may be the right one.
 */
export function nearDuplicates(contours: readonly ProfileContour[], nearMm: number): Problem[] {
  if (!(nearMm > 0)) return [];
  const all = contours.map((c, index) => ({ c, box: contourBox(c.contour), length: lengthMm(c.contour), index }));
  const cells = new Map<string, Measured[]>();
  for (const one of all) {
    const key = cellKey(one.box, nearMm, 0, 0);
    const cell = cells.get(key);
    if (cell === undefined) cells.set(key, [one]);
    else cell.push(one);
  }
  for (const cell of cells.values()) cell.sort((a, b) => a.box.maxX - b.box.maxX);
  const problems: Problem[] = [];
  for (const a of all) {
    for (let dx = -1; dx <= 1; dx++) {
      for (let dy = -1; dy <= 1; dy++) {
        for (const b of near(cells.get(cellKey(a.box, nearMm, dx, dy)) ?? [], a.box.maxX, nearMm)) {
          if (b.index > a.index && isNear(a, b, nearMm)) problems.push(duplicate(a.c, b.c, nearMm));
        }
      }
    }
  }
  return problems;
}

/** Cells of the size `nearMm` by the lower left corner of a box, so that near boxes are in the same or the next one. */
function cellKey(box: Box, nearMm: number, dx: number, dy: number): string {
  return `${Math.floor(box.minX / nearMm) + dx} ${Math.floor(box.minY / nearMm) + dy}`;
}

/** Those of a cell, sorted by `maxX`, whose right edge is within `nearMm` of the given one. */
function near(cell: readonly Measured[], maxX: number, nearMm: number): readonly Measured[] {
  let low = 0;
  let high = cell.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (cell[middle]!.box.maxX < maxX - nearMm) low = middle + 1;
    else high = middle;
  }
  let end = low;
  while (end < cell.length && cell[end]!.box.maxX <= maxX + nearMm) end++;
  return cell.slice(low, end);
}

function isNear(a: Measured, b: Measured, nearMm: number): boolean {
  if (!isNearBox(a.box, b.box, nearMm)) return false;
  // A contour moved or grown by d changes its length by at most 2 π d per turn; twice that covers wobbles.
  if (Math.abs(a.length - b.length) > 4 * Math.PI * nearMm) return false;
  return placesOf(a.c.contour).every((p) => isOn(b.c.contour, p, nearMm));
}

function duplicate(a: ProfileContour, b: ProfileContour, nearMm: number): Problem {
  const at = a.contour.segments[0]!.from;
  return problem({
    code: 'DXF-NEAR-DUPLICATE',
    severity: 'warn',
    what: `Two contours lie on one another within ${nearMm} mm at (${at.x.toFixed(3)}, ${at.y.toFixed(3)}) mm, on layers ${a.layer} and ${b.layer}`,
    fix: 'Delete one of them, or choose the layer that is meant',
    at: { xMm: at.x, yMm: at.y, layer: a.layer },
  });
}

function isNearBox(a: Box, b: Box, nearMm: number): boolean {
  return (
    Math.abs(a.maxX - b.maxX) <= nearMm && Math.abs(a.minY - b.minY) <= nearMm && Math.abs(a.maxY - b.maxY) <= nearMm
  );
}

/** Ends and middles of segments spread over the contour. */
function placesOf(c: Contour): Point[] {
  const step = Math.max(1, Math.floor(c.segments.length / MOST_PLACES));
  const places: Point[] = [];
  for (let i = 0; i < c.segments.length; i += step) places.push(c.segments[i]!.from, pointAt(c.segments[i]!, 0.5));
  return places;
}

function isOn(c: Contour, p: Point, nearMm: number): boolean {
  return c.segments.some((s) => nearestPoint(s, p).distanceMm <= nearMm);
}
