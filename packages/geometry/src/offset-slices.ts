import { BoxTree } from './box-tree.js';
import { Crossings, crossPieces } from './crossings.js';
import type { RawOffset } from './offset-raw.js';
import { Pieces, STRIDE, writeMiddle } from './pieces.js';

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

interface Cut {
  readonly piece: number;
  readonly order: number;
  readonly x: number;
  readonly y: number;
  readonly isEnd: boolean;
}

const crossings = new Crossings();
const tree = new BoxTree();
const middle = new Float64Array(2);
const quarter = new Float64Array(2);

/** Cuts the raw offset where it meets itself or any of the `cutters` (pieces the path may end on). */
export function sliceRaw(raw: RawOffset, isClosed: boolean, cutters: Pieces | undefined, mergeMm: number): Slice[] {
  const n = raw.pieces.count;
  if (n === 0) return [];
  const cuts = findCuts(raw, cutters, mergeMm);
  return cutUp(raw, isClosed, cuts);
}

function findCuts(raw: RawOffset, cutters: Pieces | undefined, mergeMm: number): Cut[] {
  const n = raw.pieces.count;
  let all = raw.pieces;
  if (cutters !== undefined) {
    all = new Pieces(n + cutters.count);
    all.data.set(raw.pieces.data.subarray(0, n * STRIDE));
    all.data.set(cutters.data.subarray(0, cutters.count * STRIDE), n * STRIDE);
    all.count = n + cutters.count;
  }
  tree.build(all);
  tree.findPairs(mergeMm);
  const d = all.data;
  const cuts: Cut[] = [];
  const { pairs } = tree;
  for (let p = 0; p < tree.pairCount; p++) {
    const i = pairs[2 * p]!;
    const j = pairs[2 * p + 1]!;
    if (i >= n) continue;
    const isCutter = j >= n;
    const follows = !isCutter && j === i + 1 && raw.isLinked[i] === 1;
    const leads = !isCutter && i === 0 && j === n - 1 && raw.isLinked[j] === 1;
    if ((follows || leads) && d[i * STRIDE + 7] === 0 && d[j * STRIDE + 7] === 0) continue;
    crossPieces(d, i, d, j, mergeMm, crossings);
    if (crossings.count === 0) continue;
    if (follows) dropJoint(d[i * STRIDE + 2]!, d[i * STRIDE + 3]!, mergeMm);
    if (leads) dropJoint(d[i * STRIDE]!, d[i * STRIDE + 1]!, mergeMm);
    for (let k = 0; k < crossings.count; k++) {
      const x = crossings.x[k]!;
      const y = crossings.y[k]!;
      cuts.push({ piece: i, order: orderAlong(d, i, x, y), x, y, isEnd: isCutter });
      if (!isCutter) cuts.push({ piece: j, order: orderAlong(d, j, x, y), x, y, isEnd: false });
    }
  }
  return cuts.sort((a, b) => a.piece - b.piece || a.order - b.order);
}

/** Linked pieces always meet at their joint; what rounding makes of a smooth joint goes with it. */
function dropJoint(x: number, y: number, mergeMm: number): void {
  if (crossings.isOverlapping) {
    for (let k = crossings.count - 1; k >= 0; k--) if (gapTo(k, x, y) <= mergeMm) crossings.removeAt(k);
    return;
  }
  if (crossings.isNearTangent) {
    crossings.count = 0;
    return;
  }
  let nearest = -1;
  let gap = Infinity;
  for (let k = 0; k < crossings.count; k++) {
    const g = gapTo(k, x, y);
    if (g < gap) {
      gap = g;
      nearest = k;
    }
  }
  if (nearest >= 0) crossings.removeAt(nearest);
}

function gapTo(k: number, x: number, y: number): number {
  const dx = crossings.x[k]! - x;
  const dy = crossings.y[k]! - y;
  return Math.sqrt(dx * dx + dy * dy);
}

/** A number that grows along the piece (not its length): projection on a line, half-turn measure without angles on an arc. */
function orderAlong(d: Float64Array, i: number, x: number, y: number): number {
  const k = i * STRIDE;
  if (d[k + 7] === 0) return (x - d[k]!) * (d[k + 2]! - d[k]!) + (y - d[k + 1]!) * (d[k + 3]! - d[k + 1]!);
  const side = d[k + 7]! > 0 ? 1 : -1;
  const fx = d[k]! - d[k + 4]!;
  const fy = d[k + 1]! - d[k + 5]!;
  const px = x - d[k + 4]!;
  const py = y - d[k + 5]!;
  const cross = side * (fx * py - fy * px);
  const dot = fx * px + fy * py;
  return dot >= 0 ? cross / (Math.abs(cross) + dot) : 1 - dot / (Math.abs(cross) - dot) + (cross < 0 ? 1 : 0);
}

function cutUp(raw: RawOffset, isClosed: boolean, cuts: readonly Cut[]): Slice[] {
  const n = raw.pieces.count;
  const d = raw.pieces.data;
  const out: Slice[] = [];
  const wraps = isClosed && raw.isLinked[n - 1] === 1;
  let fromPiece = 0;
  let fromX = d[0]!;
  let fromY = d[1]!;
  let mayStart = !isClosed;
  let c = 0;
  const close = (toPiece: number, toX: number, toY: number, mayEnd: boolean): void => {
    out.push({ fromPiece, toPiece, fromX, fromY, toX, toY, mayStart, mayEnd, isWhole: false });
  };
  for (let p = 0; p < n; p++) {
    for (; c < cuts.length && cuts[c]!.piece === p; c++) {
      const cut = cuts[c]!;
      close(p, cut.x, cut.y, cut.isEnd);
      fromPiece = p;
      fromX = cut.x;
      fromY = cut.y;
      mayStart = cut.isEnd;
    }
    const k = p * STRIDE;
    if (p === n - 1) close(p, d[k + 2]!, d[k + 3]!, !isClosed);
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
