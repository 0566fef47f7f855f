import { type Contour, contour } from './contour.js';
import type { RawOffset } from './offset-raw.js';
import type { Slice } from './offset-slices.js';
import { STRIDE, sweepBetween, writeMiddle } from './pieces.js';
import type { Point } from './point.js';
import type { Segment } from './segment.js';

const middle = new Float64Array(2);

/** Slices joined end to end. */
export interface Chain {
  readonly slices: readonly Slice[];
  readonly isLoop: boolean;
}

/** What stitching made of the slices, and how many mm of slice ended nowhere. */
export interface Stitched {
  readonly chains: Chain[];
  /** Slices left out because one end meets nothing. */
  readonly dropped: Slice[];
}

/** Directions this near to opposite are a path back over itself. */
const STRAIGHT_BACK_RAD = 1e-6;

/**
 * Joins slices whose ends lie within `joinMm`. Where several meet, the one furthest away from `side` (+1 left) follows,
 * so that regions which touch stay one contour.
 */
export function stitch(raw: RawOffset, slices: readonly Slice[], joinMm: number, side: number): Stitched {
  const whole: Chain[] = [];
  const cut: Slice[] = [];
  for (const s of slices) {
    if (s.isWhole) whole.push({ slices: [s], isLoop: true });
    else cut.push(s);
  }
  if (cut.length === 0) return { chains: whole, dropped: [] };
  const node = clusterEnds(cut, joinMm);
  const alive = new Uint8Array(cut.length).fill(1);
  dropDoubles(raw, cut, node, alive, joinMm);
  const dropped = dropDeadEnds(cut, node, alive);
  const out = new Map<number, number[]>();
  const incoming = new Map<number, number>();
  for (let i = 0; i < cut.length; i++) {
    if (alive[i] === 0) continue;
    const from = node[2 * i]!;
    const list = out.get(from);
    if (list === undefined) out.set(from, [i]);
    else list.push(i);
    const to = node[2 * i + 1]!;
    incoming.set(to, (incoming.get(to) ?? 0) + 1);
  }
  const walk = (start: number): Chain => {
    const chain: Slice[] = [cut[start]!];
    alive[start] = 0;
    let at = start;
    for (;;) {
      const here = node[2 * at + 1]!;
      let next = -1;
      let best = Infinity;
      for (const candidate of out.get(here) ?? []) {
        if (alive[candidate] === 0 && candidate !== start) continue;
        const turn = side * turnBetween(raw, cut[at]!, cut[candidate]!);
        // Straight back comes last: first round whatever lies beyond a neck of no width.
        const rank = Math.PI - Math.abs(turn) < STRAIGHT_BACK_RAD ? Math.PI : turn;
        if (rank < best) {
          best = rank;
          next = candidate;
        }
      }
      if (next === start) return { slices: chain, isLoop: true };
      if (next < 0) return { slices: chain, isLoop: false };
      chain.push(cut[next]!);
      alive[next] = 0;
      at = next;
    }
  };
  const chains = whole;
  for (let i = 0; i < cut.length; i++) {
    if (
      alive[i] === 1 &&
      cut[i]!.mayStart &&
      (incoming.get(node[2 * i]!) ?? 0) < (out.get(node[2 * i]!)?.length ?? 0)
    ) {
      chains.push(walk(i));
    }
  }
  for (let i = 0; i < cut.length; i++) if (alive[i] === 1) chains.push(walk(i));
  return { chains, dropped };
}

/** Node number per slice end (2 i: start, 2 i + 1: end); ends within `joinMm` share one. */
function clusterEnds(slices: readonly Slice[], joinMm: number): Int32Array {
  const count = slices.length * 2;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const parent = new Int32Array(count);
  const order: number[] = [];
  slices.forEach((s, i) => {
    x[2 * i] = s.fromX;
    y[2 * i] = s.fromY;
    x[2 * i + 1] = s.toX;
    y[2 * i + 1] = s.toY;
  });
  for (let i = 0; i < count; i++) {
    parent[i] = i;
    order.push(i);
  }
  const root = (i: number): number => {
    let r = i;
    while (parent[r] !== r) r = parent[r] = parent[parent[r]!]!;
    return r;
  };
  order.sort((a, b) => x[a]! - x[b]!);
  for (let a = 0; a < count; a++) {
    const i = order[a]!;
    for (let b = a + 1; b < count; b++) {
      const j = order[b]!;
      const dx = x[j]! - x[i]!;
      if (dx > joinMm) break;
      const dy = y[j]! - y[i]!;
      if (dx * dx + dy * dy <= joinMm * joinMm) parent[root(j)] = root(i);
    }
  }
  for (let i = 0; i < count; i++) parent[i] = root(i);
  return parent;
}

/** Of slices running the same way along the same path, keeps one. */
function dropDoubles(
  raw: RawOffset,
  slices: readonly Slice[],
  node: Int32Array,
  alive: Uint8Array,
  joinMm: number,
): void {
  const byNode = new Map<number, number[]>();
  for (let i = 0; i < slices.length; i++) {
    const s = slices[i]!;
    const list = byNode.get(node[2 * i]!);
    if (list === undefined) {
      byNode.set(node[2 * i]!, [i]);
      continue;
    }
    const isDouble = list.some((j) => {
      const other = slices[j]!;
      return (
        node[2 * j + 1] === node[2 * i + 1] &&
        s.fromPiece === s.toPiece &&
        other.fromPiece === other.toPiece &&
        isSamePath(raw, s, other, joinMm)
      );
    });
    if (isDouble) alive[i] = 0;
    else list.push(i);
  }
}

/** Of at most half a turn each and with the same ends, two slices are one path when their middles agree. */
function isSamePath(raw: RawOffset, a: Slice, b: Slice, joinMm: number): boolean {
  const d = raw.pieces.data;
  writeMiddle(d, a.fromPiece, a.fromX, a.fromY, a.toX, a.toY, middle);
  const x = middle[0]!;
  const y = middle[1]!;
  writeMiddle(d, b.fromPiece, b.fromX, b.fromY, b.toX, b.toY, middle);
  return (middle[0]! - x) * (middle[0]! - x) + (middle[1]! - y) * (middle[1]! - y) <= joinMm * joinMm;
}

/** Takes out slices with an end that meets nothing and is no rightful end, until none is left. */
function dropDeadEnds(slices: readonly Slice[], node: Int32Array, alive: Uint8Array): Slice[] {
  const dropped: Slice[] = [];
  const incoming = new Map<number, number>();
  const outgoing = new Map<number, number>();
  const bump = (map: Map<number, number>, key: number, by: number): void => {
    map.set(key, (map.get(key) ?? 0) + by);
  };
  for (let i = 0; i < slices.length; i++) {
    if (alive[i] === 0) continue;
    bump(outgoing, node[2 * i]!, 1);
    bump(incoming, node[2 * i + 1]!, 1);
  }
  for (let isChanged = true; isChanged; ) {
    isChanged = false;
    for (let i = 0; i < slices.length; i++) {
      if (alive[i] === 0) continue;
      const s = slices[i]!;
      const startsNowhere = !s.mayStart && (incoming.get(node[2 * i]!) ?? 0) === 0;
      const endsNowhere = !s.mayEnd && (outgoing.get(node[2 * i + 1]!) ?? 0) === 0;
      if (!startsNowhere && !endsNowhere) continue;
      alive[i] = 0;
      dropped.push(s);
      bump(outgoing, node[2 * i]!, -1);
      bump(incoming, node[2 * i + 1]!, -1);
      isChanged = true;
    }
  }
  return dropped;
}

/** Signed turn from the end of one slice into the start of another, radians, left positive; straight back is half a turn. */
function turnBetween(raw: RawOffset, from: Slice, to: Slice): number {
  const d = raw.pieces.data;
  const n = raw.pieces.count;
  const a = direction(d, from.toPiece % n, from.toX, from.toY);
  const b = direction(d, to.fromPiece % n, to.fromX, to.fromY);
  return Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y);
}

function direction(d: Float64Array, piece: number, x: number, y: number): Point {
  const k = piece * STRIDE;
  const sweep = d[k + 7]!;
  if (sweep === 0) return { x: d[k + 2]! - d[k]!, y: d[k + 3]! - d[k + 1]! };
  const side = sweep > 0 ? 1 : -1;
  return { x: -side * (y - d[k + 5]!), y: side * (x - d[k + 4]!) };
}

/** The contour a chain describes, or undefined when nothing longer than `mergeMm` is left of it. */
export function chainContour(raw: RawOffset, chain: Chain, isClosed: boolean, mergeMm: number): Contour | undefined {
  const spans = collectSpans(raw, chain, mergeMm);
  const count = spans.length;
  if (count === 0) return undefined;
  const d = raw.pieces.data;
  const isLoop = chain.isLoop;
  // One point per joint. Arcs keep theirs, so that their ends stay on the circle.
  const points: Point[] = [];
  for (let i = 0; i <= count; i++) {
    const before = i > 0 ? spans[i - 1]! : isLoop ? spans[count - 1]! : undefined;
    const after = i < count ? spans[i]! : isLoop ? spans[0]! : undefined;
    if (i === count && isLoop) points.push(points[0]!);
    else if (before !== undefined && (after === undefined || d[before.piece * STRIDE + 7] !== 0)) {
      points.push({ x: before.toX, y: before.toY });
    } else points.push({ x: after!.fromX, y: after!.fromY });
  }
  const segments: Segment[] = new Array(count);
  let total = 0;
  for (let i = 0; i < count; i++) {
    const span = spans[i]!;
    const k = span.piece * STRIDE;
    const from = points[i]!;
    const to = points[i + 1]!;
    if (d[k + 7] === 0) {
      segments[i] = { kind: 'line', from, to };
      total += Math.abs(to.x - from.x) + Math.abs(to.y - from.y);
    } else {
      const centre = { x: d[k + 4]!, y: d[k + 5]! };
      segments[i] = { kind: 'arc', from, to, centre, radiusMm: d[k + 6]!, sweepRad: span.sweepRad };
      total += d[k + 6]! * Math.abs(span.sweepRad);
    }
  }
  if (total <= 4 * mergeMm) return undefined;
  return contour(segments, isClosed && isLoop);
}

interface Span {
  readonly piece: number;
  readonly fromX: number;
  readonly fromY: number;
  toX: number;
  toY: number;
  sweepRad: number;
}

function collectSpans(raw: RawOffset, chain: Chain, mergeMm: number): Span[] {
  const d = raw.pieces.data;
  const n = raw.pieces.count;
  const spans: Span[] = [];
  for (const slice of chain.slices) {
    for (let at = slice.fromPiece; at <= slice.toPiece; at++) {
      const piece = at % n;
      const k = piece * STRIDE;
      const isFirst = at === slice.fromPiece;
      const isLast = at === slice.toPiece;
      const fromX = isFirst ? slice.fromX : d[k]!;
      const fromY = isFirst ? slice.fromY : d[k + 1]!;
      const toX = isLast ? slice.toX : d[k + 2]!;
      const toY = isLast ? slice.toY : d[k + 3]!;
      const sweep = d[k + 7]!;
      let sweepRad = 0;
      let isLong: boolean;
      if (sweep === 0) isLong = (toX - fromX) * (toX - fromX) + (toY - fromY) * (toY - fromY) > mergeMm * mergeMm;
      else {
        sweepRad = isFirst || isLast ? partSweep(d, k, fromX, fromY, toX, toY) : sweep;
        isLong = Math.abs(sweepRad) * d[k + 6]! > mergeMm;
      }
      if (!isLong) continue;
      const last = spans[spans.length - 1];
      // A cut that turned out to be no corner heals.
      if (last !== undefined && last.piece === piece && last.toX === fromX && last.toY === fromY) {
        last.toX = toX;
        last.toY = toY;
        last.sweepRad += sweepRad;
      } else spans.push({ piece, fromX, fromY, toX, toY, sweepRad });
    }
  }
  const first = spans[0];
  const last = spans[spans.length - 1];
  if (
    chain.isLoop &&
    spans.length > 2 &&
    first!.piece === last!.piece &&
    last!.toX === first!.fromX &&
    last!.toY === first!.fromY
  ) {
    spans[0] = {
      piece: first!.piece,
      fromX: last!.fromX,
      fromY: last!.fromY,
      toX: first!.toX,
      toY: first!.toY,
      sweepRad: first!.sweepRad + last!.sweepRad,
    };
    spans.pop();
  }
  return spans;
}

function partSweep(d: Float64Array, k: number, fx: number, fy: number, tx: number, ty: number): number {
  if (fx === d[k] && fy === d[k + 1] && tx === d[k + 2] && ty === d[k + 3]) return d[k + 7]!;
  const side = d[k + 7]! > 0 ? 1 : -1;
  const cx = d[k + 4]!;
  const cy = d[k + 5]!;
  return side * sweepBetween(fx - cx, fy - cy, tx - cx, ty - cy, side);
}
