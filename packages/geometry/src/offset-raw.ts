import { Crossings, crossPieces } from './crossings.js';
import { distanceSquared, Pieces, STRIDE, sweepBetween, writeMiddle } from './pieces.js';

/** Offset pieces of every segment plus round joins, in travel order; the memory is reused from call to call. */
export class RawOffset {
  readonly pieces = new Pieces(64);
  /** 1 when a piece's end is joined to the start of the next one (the last one's to the first's, when closed). */
  isLinked = new Uint8Array(64);
  /** The first piece starts (the last one ends) where an open contour's offset rightfully does. */
  hasStart = false;
  hasEnd = false;

  clear(capacity: number): void {
    this.pieces.clear(capacity);
    if (this.isLinked.length < capacity) this.isLinked = new Uint8Array(2 * capacity);
    else this.isLinked.fill(0, 0, capacity);
  }
}

/** Rounding room when a trimmed-off tail is tested for lying within the distance, mm. */
const TAIL_ROUNDING_MM = 1e-9;

/**
 * A concave joint whose two offset ends lie this many merge lengths apart, and whose pieces do not cross cleanly, is the
 * noise of short segments' directions: joined as it is.
 */
const NOISE_GAP_MERGES = 16;
/** So is a wider gap while closing it moves the path sideways by no more than this, mm (gap squared over 8 radii). */
const NOISE_SAGITTA_MM = 1e-9;

const crossings = new Crossings();
const middle = new Float64Array(2);

/**
 * Offsets each segment on its own (arcs stay concentric, arcs that collapse are left out: no point of them keeps the
 * distance), adds a round join at each convex corner and trims at concave ones where that is certain.
 */
export function rawOffset(
  source: Pieces,
  isClosed: boolean,
  distanceMm: number,
  mergeMm: number,
  into: RawOffset,
): RawOffset {
  const n = source.count;
  const s = source.data;
  into.clear(2 * n + 1);
  const { pieces, isLinked } = into;
  // Joints to trim: the two pieces and the two source segments.
  const joints: number[] = [];
  const turn = distanceMm > 0 ? 1 : -1;
  const reach = Math.abs(distanceMm);

  let firstPiece = -1;
  let firstStartX = 0;
  let firstStartY = 0;
  let lastPiece = -1;
  let lastEndX = 0;
  let lastEndY = 0;
  for (let i = 0; i <= n; i++) {
    const isWrap = i === n;
    if (isWrap && !isClosed) break;
    const k = (isWrap ? 0 : i) * STRIDE;
    const fx = s[k]!;
    const fy = s[k + 1]!;
    // Left unit normals at both ends.
    let startX: number;
    let startY: number;
    let endX: number;
    let endY: number;
    const sweep = s[k + 7]!;
    if (isWrap) {
      startX = firstStartX;
      startY = firstStartY;
      endX = 0;
      endY = 0;
    } else if (sweep === 0) {
      const dx = s[k + 2]! - fx;
      const dy = s[k + 3]! - fy;
      const length = Math.sqrt(dx * dx + dy * dy);
      startX = endX = -dy / length;
      startY = endY = dx / length;
    } else {
      const side = sweep > 0 ? -1 : 1;
      const ax = fx - s[k + 4]!;
      const ay = fy - s[k + 5]!;
      const bx = s[k + 2]! - s[k + 4]!;
      const by = s[k + 3]! - s[k + 5]!;
      const a = side / Math.sqrt(ax * ax + ay * ay);
      const b = side / Math.sqrt(bx * bx + by * by);
      startX = ax * a;
      startY = ay * a;
      endX = bx * b;
      endY = by * b;
    }
    let isStartLinked = false;
    let isConcave = false;
    if (i > 0) {
      // The joint at the end of segment i - 1.
      const v = (i - 1) * STRIDE;
      const vx = s[v + 2]!;
      const vy = s[v + 3]!;
      const gapX = (startX - lastEndX) * distanceMm;
      const gapY = (startY - lastEndY) * distanceMm;
      if (gapX * gapX + gapY * gapY <= mergeMm * mergeMm) {
        isStartLinked = true;
        if (lastPiece >= 0) isLinked[pieces.count - 1] = 1;
      } else {
        const cross = turn * (lastEndX * startY - lastEndY * startX);
        const dot = lastEndX * startX + lastEndY * startY;
        // A path that turns straight back has no side of its own: rounded on both, the covered one goes later.
        const isCusp = dot < 0 && Math.abs(cross) * reach <= mergeMm;
        if (cross < 0 || isCusp) {
          const sweepRad = -turn * sweepBetween(lastEndX, lastEndY, startX, startY, -turn);
          if (lastPiece >= 0) isLinked[pieces.count - 1] = 1;
          const join = pieces.push(
            vx + lastEndX * distanceMm,
            vy + lastEndY * distanceMm,
            vx + startX * distanceMm,
            vy + startY * distanceMm,
            vx,
            vy,
            reach,
            isCusp ? -turn * Math.PI : sweepRad,
          );
          isLinked[join] = 1;
          isStartLinked = true;
        } else isConcave = true;
      }
    }
    if (isWrap) {
      const last = pieces.count - 1;
      if (last >= 0 && (firstPiece !== 0 || !isStartLinked)) isLinked[last] = 0;
      if (isConcave && lastPiece >= 0 && firstPiece === 0) joints.push(lastPiece, 0, n - 1, 0);
      break;
    }
    if (i === 0) {
      firstStartX = startX;
      firstStartY = startY;
    }
    const before = pieces.count - 1;
    let piece = -1;
    if (sweep === 0) {
      piece = pieces.push(
        fx + startX * distanceMm,
        fy + startY * distanceMm,
        s[k + 2]! + endX * distanceMm,
        s[k + 3]! + endY * distanceMm,
        0,
        0,
        0,
        0,
      );
    } else {
      const side = sweep > 0 ? -1 : 1;
      const radius = s[k + 6]! + side * distanceMm;
      if (radius > mergeMm) {
        const cx = s[k + 4]!;
        const cy = s[k + 5]!;
        const q = side * radius;
        piece = pieces.push(cx + startX * q, cy + startY * q, cx + endX * q, cy + endY * q, cx, cy, radius, sweep);
      }
    }
    if (i === 0) firstPiece = piece;
    if (piece < 0 && before >= 0) isLinked[before] = 0;
    if (isConcave && piece >= 0 && lastPiece >= 0) joints.push(lastPiece, piece, i - 1, i);
    lastPiece = piece;
    lastEndX = endX;
    lastEndY = endY;
  }
  if (!isClosed && pieces.count > 0) isLinked[pieces.count - 1] = 0;
  if (joints.length > 0) trimJoints(source, pieces, isLinked, joints, reach, mergeMm);
  into.hasStart = !isClosed && firstPiece === 0;
  into.hasEnd = !isClosed && lastPiece >= 0 && lastPiece === pieces.count - 1;
  return into;
}

/** Cuts both pieces of each concave joint back to their crossing, where what is cut off surely lies too near. */
function trimJoints(
  source: Pieces,
  pieces: Pieces,
  isLinked: Uint8Array,
  joints: readonly number[],
  reach: number,
  mergeMm: number,
): void {
  const d = pieces.data;
  const count = joints.length / 4;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const isTrimmed = new Uint8Array(count);
  const startTrim = new Int32Array(pieces.count).fill(-1);
  for (let j = 0; j < count; j++) {
    const p = joints[4 * j]!;
    const q = joints[4 * j + 1]!;
    crossPieces(d, p, d, q, mergeMm, crossings);
    if (crossings.count !== 1 || crossings.isOverlapping || p === q) continue;
    x[j] = crossings.x[0]!;
    y[j] = crossings.y[0]!;
    const isLines = d[p * STRIDE + 7] === 0 && d[q * STRIDE + 7] === 0;
    if (!isLines) {
      const limit = reach + TAIL_ROUNDING_MM;
      const kp = p * STRIDE;
      writeMiddle(d, p, x[j]!, y[j]!, d[kp + 2]!, d[kp + 3]!, middle);
      if (distanceSquared(source.data, joints[4 * j + 3]!, middle[0]!, middle[1]!) > limit * limit) continue;
      const kq = q * STRIDE;
      writeMiddle(d, q, d[kq]!, d[kq + 1]!, x[j]!, y[j]!, middle);
      if (distanceSquared(source.data, joints[4 * j + 2]!, middle[0]!, middle[1]!) > limit * limit) continue;
    }
    isTrimmed[j] = 1;
    startTrim[q] = j;
  }
  // A piece trimmed away entirely from both sides keeps its ends: its neighbours meet elsewhere.
  for (let j = 0; j < count; j++) {
    const p = joints[4 * j]!;
    const before = startTrim[p]!;
    if (isTrimmed[j] === 0 || before < 0) continue;
    if (!isForward(d, p * STRIDE, x[before]!, y[before]!, x[j]!, y[j]!, mergeMm)) {
      isTrimmed[j] = 2;
      isTrimmed[before] = 2;
    }
  }
  const noiseGap = NOISE_GAP_MERGES * mergeMm;
  for (let j = 0; j < count; j++) {
    const p = joints[4 * j]!;
    const q = joints[4 * j + 1]!;
    if (isTrimmed[j] !== 1) {
      const dx = d[q * STRIDE]! - d[p * STRIDE + 2]!;
      const dy = d[q * STRIDE + 1]! - d[p * STRIDE + 3]!;
      const gap = dx * dx + dy * dy;
      if (gap <= noiseGap * noiseGap || isNoise(d, p * STRIDE, q * STRIDE, gap, reach)) isLinked[p] = 1;
      continue;
    }
    d[p * STRIDE + 2] = x[j]!;
    d[p * STRIDE + 3] = y[j]!;
    d[q * STRIDE] = x[j]!;
    d[q * STRIDE + 1] = y[j]!;
    isLinked[p] = 1;
  }
  for (let j = 0; j < count; j++) {
    if (isTrimmed[j] !== 1) continue;
    updateSweep(d, joints[4 * j]! * STRIDE);
    updateSweep(d, joints[4 * j + 1]! * STRIDE);
  }
}

function isNoise(d: Float64Array, p: number, q: number, gapSquared: number, reach: number): boolean {
  let radius = reach;
  for (const k of [p, q]) {
    if (d[k + 7] !== 0 && d[k + 6]! < radius) radius = d[k + 6]!;
    const dx = d[k + 2]! - d[k]!;
    const dy = d[k + 3]! - d[k + 1]!;
    if (d[k + 7] === 0 && dx * dx + dy * dy <= 4 * gapSquared) return false;
    if (d[k + 7] !== 0 && (d[k + 7]! * d[k + 6]!) ** 2 <= 4 * gapSquared) return false;
  }
  return gapSquared <= 8 * NOISE_SAGITTA_MM * radius;
}

function isForward(d: Float64Array, k: number, ax: number, ay: number, bx: number, by: number, merge: number): boolean {
  if (d[k + 7] === 0) {
    const along = (bx - ax) * (d[k + 2]! - d[k]!) + (by - ay) * (d[k + 3]! - d[k + 1]!);
    if (along >= 0) return true;
  } else {
    const cx = d[k + 4]!;
    const cy = d[k + 5]!;
    const cross = (ax - cx) * (by - cy) - (ay - cy) * (bx - cx);
    if (d[k + 7]! > 0 ? cross >= 0 : cross <= 0) return true;
  }
  return (bx - ax) * (bx - ax) + (by - ay) * (by - ay) <= merge * merge;
}

function updateSweep(d: Float64Array, k: number): void {
  const sweep = d[k + 7]!;
  if (sweep === 0) return;
  const side = sweep > 0 ? 1 : -1;
  const cx = d[k + 4]!;
  const cy = d[k + 5]!;
  const angle = sweepBetween(d[k]! - cx, d[k + 1]! - cy, d[k + 2]! - cx, d[k + 3]! - cy, side);
  // Never 0: that would make it a line.
  d[k + 7] = side * Math.max(angle, Number.MIN_VALUE);
}
