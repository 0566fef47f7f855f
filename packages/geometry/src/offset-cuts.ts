import { BoxTree } from './box-tree.js';
import { Crossings, crossPieces } from './crossings.js';
import type { RawOffset } from './offset-raw.js';
import { Pieces, STRIDE } from './pieces.js';

const crossings = new Crossings();
const tree = new BoxTree();
const everything = new Pieces(64);

/** Places where the raw offset is cut, in order along it; reused from call to call. */
export class Cuts {
  count = 0;
  piece = new Int32Array(64);
  order = new Float64Array(64);
  x = new Float64Array(64);
  y = new Float64Array(64);
  /** 1 where the path may rightfully end. */
  isEnd = new Uint8Array(64);
  /** Cut numbers from the start of the path to its end. */
  sorted = new Int32Array(0);

  add(piece: number, order: number, x: number, y: number, isEnd: boolean): void {
    if (this.count === this.piece.length) this.grow();
    const i = this.count++;
    this.piece[i] = piece;
    this.order[i] = order;
    this.x[i] = x;
    this.y[i] = y;
    this.isEnd[i] = isEnd ? 1 : 0;
  }

  sort(): void {
    const { piece, order } = this;
    const sorted = new Int32Array(this.count);
    for (let i = 0; i < this.count; i++) sorted[i] = i;
    this.sorted = sorted.sort((a, b) => piece[a]! - piece[b]! || order[a]! - order[b]!);
  }

  private grow(): void {
    const size = this.piece.length * 2;
    const copy = <T extends Int32Array | Float64Array | Uint8Array>(into: T, from: T): T => {
      into.set(from);
      return into;
    };
    this.piece = copy(new Int32Array(size), this.piece);
    this.order = copy(new Float64Array(size), this.order);
    this.x = copy(new Float64Array(size), this.x);
    this.y = copy(new Float64Array(size), this.y);
    this.isEnd = copy(new Uint8Array(size), this.isEnd);
  }
}

/** Fills `cuts` with every place where the raw offset meets itself or a cutter. */
export function findCuts(raw: RawOffset, cutters: Pieces | undefined, mergeMm: number, cuts: Cuts): void {
  cuts.count = 0;
  const n = raw.pieces.count;
  let all = raw.pieces;
  if (cutters !== undefined) {
    all = everything;
    all.clear(n + cutters.count);
    all.data.set(raw.pieces.data.subarray(0, n * STRIDE));
    all.data.set(cutters.data.subarray(0, cutters.count * STRIDE), n * STRIDE);
    all.count = n + cutters.count;
  }
  tree.build(all);
  tree.findPairs(mergeMm);
  const d = all.data;
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
      cuts.add(i, orderAlong(d, i, x, y), x, y, isCutter);
      if (!isCutter) cuts.add(j, orderAlong(d, j, x, y), x, y, false);
    }
  }
  cuts.sort();
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
