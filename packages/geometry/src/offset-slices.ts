import type { BoxTree } from './box-tree.js';
import { Cuts, findCuts } from './offset-cuts.js';
import type { RawOffset } from './offset-raw.js';
import { type Pieces, STRIDE, writeMiddle } from './pieces.js';

/** A stretch of the raw offset between two cuts: pieces `fromPiece`..`toPiece` (beyond the count: past the start again). */
export interface Slice {
  readonly fromPiece: number;
  readonly toPiece: number;
  readonly fromX: number;
  readonly fromY: number;
  readonly toX: number;
  readonly toY: number;
  /** The path may start (end) here: an open contour's end, or where the other side's offset takes over. */
  readonly mayStart: boolean;
  readonly mayEnd: boolean;
  /** It closes on itself without any cut. */
  readonly isWhole: boolean;
}

const cuts = new Cuts();
const middle = new Float64Array(2);
const quarter = new Float64Array(2);

/** Cuts the raw offset where it meets itself or any of the `cutters` (pieces the path may end on). */
export function sliceRaw(raw: RawOffset, isClosed: boolean, cutters: Pieces | undefined, mergeMm: number): Slice[] {
  const n = raw.pieces.count;
  if (n === 0) return [];
  findCuts(raw, cutters, mergeMm, cuts);
  return cutUp(raw, isClosed);
}

function cutUp(raw: RawOffset, isClosed: boolean): Slice[] {
  const n = raw.pieces.count;
  const d = raw.pieces.data;
  const out: Slice[] = [];
  const wraps = isClosed && raw.isLinked[n - 1] === 1;
  let fromPiece = 0;
  let fromX = d[0]!;
  let fromY = d[1]!;
  let mayStart = raw.hasStart;
  let c = 0;
  const close = (toPiece: number, toX: number, toY: number, mayEnd: boolean): void => {
    out.push({ fromPiece, toPiece, fromX, fromY, toX, toY, mayStart, mayEnd, isWhole: false });
  };
  for (let p = 0; p < n; p++) {
    for (; c < cuts.count; c++) {
      const cut = cuts.sorted[c]!;
      if (cuts.piece[cut] !== p) break;
      const isEnd = cuts.isEnd[cut] === 1;
      close(p, cuts.x[cut]!, cuts.y[cut]!, isEnd);
      fromPiece = p;
      fromX = cuts.x[cut]!;
      fromY = cuts.y[cut]!;
      mayStart = isEnd;
    }
    const k = p * STRIDE;
    if (p === n - 1) close(p, d[k + 2]!, d[k + 3]!, raw.hasEnd);
    else if (raw.isLinked[p] === 0) {
      close(p, d[k + 2]!, d[k + 3]!, false);
      fromPiece = p + 1;
      fromX = d[k + STRIDE]!;
      fromY = d[k + STRIDE + 1]!;
      mayStart = false;
    }
  }
  if (!wraps) return out;
  if (out.length === 1) return [{ ...out[0]!, isWhole: true }];
  // The last slice runs on into the first.
  const first = out.shift()!;
  const last = out.pop()!;
  out.push({
    ...last,
    toPiece: first.toPiece + n,
    toX: first.toX,
    toY: first.toY,
    mayEnd: first.mayEnd,
  });
  return out;
}

/**
 * True when the slice keeps the distance from the source. It cannot change from good to bad without a cut, so points
 * inside it speak for all of it; several are asked because one may fall on a place where two sides tie.
 */
export function keepsDistance(
  raw: RawOffset,
  slice: Slice,
  source: Pieces,
  sourceTree: BoxTree,
  limitMm: number,
): boolean {
  const n = raw.pieces.count;
  const d = raw.pieces.data;
  const spans = slice.toPiece - slice.fromPiece + 1;
  if (spans === 1) {
    const p = slice.fromPiece;
    writeMiddle(d, p, slice.fromX, slice.fromY, slice.toX, slice.toY, middle);
    if (sourceTree.anyCloserThan(source, middle[0]!, middle[1]!, limitMm) >= 0) return false;
    writeMiddle(d, p, slice.fromX, slice.fromY, middle[0]!, middle[1]!, quarter);
    if (sourceTree.anyCloserThan(source, quarter[0]!, quarter[1]!, limitMm) >= 0) return false;
    writeMiddle(d, p, middle[0]!, middle[1]!, slice.toX, slice.toY, quarter);
    return sourceTree.anyCloserThan(source, quarter[0]!, quarter[1]!, limitMm) < 0;
  }
  const isGood = (at: number): boolean => {
    const p = at % n;
    const k = p * STRIDE;
    const isFirst = at === slice.fromPiece;
    const isLast = at === slice.toPiece;
    writeMiddle(
      d,
      p,
      isFirst ? slice.fromX : d[k]!,
      isFirst ? slice.fromY : d[k + 1]!,
      isLast ? slice.toX : d[k + 2]!,
      isLast ? slice.toY : d[k + 3]!,
      middle,
    );
    return sourceTree.anyCloserThan(source, middle[0]!, middle[1]!, limitMm) < 0;
  };
  const half = slice.fromPiece + (spans >> 1);
  return isGood(half) && isGood(slice.fromPiece) && (spans === 2 || isGood(slice.toPiece));
}
