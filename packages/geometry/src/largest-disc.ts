import { type Contour, contourBox } from './contour.js';
import { boundDisc, type Near } from './disc-bound.js';
import { boundaryDistanceMm, containsPoint, interiorPoint } from './inside.js';
import type { Point } from './point.js';
import { nearestPoint } from './segment.js';

export interface Disc {
  readonly centre: Point;
  readonly radiusMm: number;
}

export interface LargestDisc extends Disc {
  /** The largest disc there is has at most this much more radius, mm. */
  readonly shortfallMm: number;
}

/** Default for how much the radius may fall short of the largest one, mm: a tenth of a micrometre. */
export const DISC_TOLERANCE_MM = 1e-4;

/** Search gives up refining after this many cells; `shortfallMm` then says how far it got. */
const MOST_CELLS = 60_000;

interface Cell {
  readonly x: number;
  readonly y: number;
  readonly half: number;
  /** Segments that can be nearest to some point of the cell. */
  readonly near: readonly number[];
  /** No disc centred in the cell is larger. */
  readonly most: number;
  /** Side of the whole cell when the contour stays clear of it. */
  readonly isClear: boolean;
  readonly isInside: boolean;
}

/**
 * The largest disc inside a closed contour; null when it is open or encloses nothing. Squares of the plane are halved,
 * the most promising first, until no square can hold a disc larger by more than `toleranceMm`.
 */
export function largestDisc(c: Contour, toleranceMm: number = DISC_TOLERANCE_MM): LargestDisc | null {
  if (!c.isClosed || c.segments.length === 0) return null;
  const box = contourBox(c);
  const size = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  if (!(size > 0) || interiorPoint(c) === null) return null;
  let best: Disc | null = null;
  const radius = (): number => best?.radiusMm ?? 0;
  const heap = new CellHeap();
  const offer = (x: number, y: number, half: number, from: readonly number[], parent: Cell | null): void => {
    const { cell, disc } = makeCell(c, { x, y }, half, from, parent);
    if (disc !== null && disc.radiusMm > radius()) best = disc;
    if (cell.most > radius() + toleranceMm) heap.push(cell);
  };
  const all = c.segments.map((_, i) => i);
  offer((box.minX + box.maxX) / 2, (box.minY + box.maxY) / 2, (size / 2) * (1 + 1e-9), all, null);
  let most = 0;
  for (let count = 1; ; ) {
    const cell = heap.pop();
    most = cell?.most ?? 0;
    if (cell === undefined || most <= radius() + toleranceMm || count > MOST_CELLS) break;
    const h = cell.half / 2;
    for (const [sx, sy] of QUARTERS) offer(cell.x + sx * h, cell.y + sy * h, h, cell.near, cell);
    count += 4;
  }
  if (best === null) return null;
  const found: Disc = best;
  // Cells that were not queued could exceed it by no more than the tolerance.
  return { ...found, shortfallMm: Math.max(toleranceMm, most - found.radiusMm) };
}

const QUARTERS = [
  [-1, -1],
  [1, -1],
  [-1, 1],
  [1, 1],
] as const;

function makeCell(
  c: Contour,
  p: Point,
  half: number,
  from: readonly number[],
  parent: Cell | null,
): { cell: Cell; disc: Disc | null } {
  const reach = half * Math.SQRT2;
  const found: Near[] = [];
  let d = Number.POSITIVE_INFINITY;
  for (const i of from) {
    const s = c.segments[i]!;
    const n = nearestPoint(s, p);
    if (n.distanceMm < d) d = n.distanceMm;
    if (n.distanceMm <= d + 2 * reach) found.push({ index: i, segment: s, point: n.point, distanceMm: n.distanceMm });
  }
  const close = found.filter((n) => n.distanceMm <= d + 2 * reach);
  const near = close.map((n) => n.index);
  const isInside = parent?.isClear === true ? parent.isInside : containsPoint(c, p);
  const isClear = d > reach;
  if (!isInside) return { cell: { ...p, half, near, most: isClear ? 0 : reach - d, isClear, isInside }, disc: null };
  const own: Disc = { centre: p, radiusMm: d };
  if (!isClear) return { cell: { ...p, half, near, most: d + reach, isClear, isInside }, disc: own };
  const bound = boundDisc(p, half, close);
  const better = bound.try === null ? null : discAt(c, bound.try, near);
  const disc = better !== null && better.radiusMm > d ? better : own;
  return { cell: { ...p, half, near, most: bound.mostMm, isClear, isInside }, disc };
}

function discAt(c: Contour, centre: Point, near: readonly number[]): Disc {
  let radiusMm = Number.POSITIVE_INFINITY;
  for (const i of near) radiusMm = Math.min(radiusMm, nearestPoint(c.segments[i]!, centre).distanceMm);
  return { centre, radiusMm };
}

/** True when the disc lies inside the closed contour; touching it within `slackMm` is allowed. */
export function discFits(c: Contour, centre: Point, radiusMm: number, slackMm = 0): boolean {
  return containsPoint(c, centre) && boundaryDistanceMm(c, centre) >= radiusMm - slackMm;
}

/** Binary heap, the cell with the largest possible disc on top. */
class CellHeap {
  private readonly cells: Cell[] = [];

  push(cell: Cell): void {
    const { cells } = this;
    let i = cells.length;
    cells.push(cell);
    while (i > 0) {
      const up = (i - 1) >> 1;
      if (cells[up]!.most >= cell.most) break;
      cells[i] = cells[up]!;
      i = up;
    }
    cells[i] = cell;
  }

  pop(): Cell | undefined {
    const { cells } = this;
    const top = cells[0];
    const last = cells.pop();
    if (top === undefined || last === undefined || cells.length === 0) return top;
    let i = 0;
    for (;;) {
      let down = 2 * i + 1;
      if (down >= cells.length) break;
      if (down + 1 < cells.length && cells[down + 1]!.most > cells[down]!.most) down++;
      if (cells[down]!.most <= last.most) break;
      cells[i] = cells[down]!;
      i = down;
    }
    cells[i] = last;
    return top;
  }
}
