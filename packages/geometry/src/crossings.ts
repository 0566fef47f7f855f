import { STRIDE } from './pieces.js';

/** Below this sine two lines count as near-parallel and their ends are tested against each other, too. */
const NEAR_PARALLEL_SINE = 1e-5;
/** Ends this share of the merge length away from a curve lie on it: room for rounding, far below any feature. */
const ON_CURVE_SHARE = 1e-3;

/** Where two pieces meet: up to six points, filled by {@link crossPieces} and reused from call to call. */
export class Crossings {
  count = 0;
  readonly x = new Float64Array(6);
  readonly y = new Float64Array(6);
  /** The carriers touch or nearly touch instead of crossing cleanly. */
  isNearTangent = false;
  /** The pieces share a stretch; the points are its ends. */
  isOverlapping = false;

  add(x: number, y: number, apart: number): void {
    for (let i = 0; i < this.count; i++) {
      const dx = x - this.x[i]!;
      const dy = y - this.y[i]!;
      if (dx * dx + dy * dy <= apart * apart) return;
    }
    if (this.count === 6) return;
    this.x[this.count] = x;
    this.y[this.count] = y;
    this.count++;
  }

  removeAt(i: number): void {
    this.count--;
    this.x[i] = this.x[this.count]!;
    this.y[i] = this.y[this.count]!;
  }
}

/** Finds where piece i of A meets piece j of B; ends within `mergeMm` of a crossing count as reaching it. */
export function crossPieces(
  A: Float64Array,
  i: number,
  B: Float64Array,
  j: number,
  mergeMm: number,
  out: Crossings,
): void {
  out.count = 0;
  out.isNearTangent = false;
  out.isOverlapping = false;
  const a = i * STRIDE;
  const b = j * STRIDE;
  if (A[a + 7] === 0) {
    if (B[b + 7] === 0) crossLines(A, a, B, b, mergeMm, out);
    else crossLineArc(A, a, B, b, mergeMm, out);
  } else if (B[b + 7] === 0) crossLineArc(B, b, A, a, mergeMm, out);
  else crossArcs(A, a, B, b, mergeMm, out);
}

function crossLines(A: Float64Array, a: number, B: Float64Array, b: number, merge: number, out: Crossings): void {
  const ux = A[a + 2]! - A[a]!;
  const uy = A[a + 3]! - A[a + 1]!;
  const vx = B[b + 2]! - B[b]!;
  const vy = B[b + 3]! - B[b + 1]!;
  const wx = B[b]! - A[a]!;
  const wy = B[b + 1]! - A[a + 1]!;
  const uu = ux * ux + uy * uy;
  const vv = vx * vx + vy * vy;
  const sine = ux * vy - uy * vx;
  if (sine * sine <= NEAR_PARALLEL_SINE * NEAR_PARALLEL_SINE * uu * vv) {
    out.isNearTangent = true;
    addEndsOnOther(A, a, B, b, merge, out);
    if (out.count >= 2) {
      out.isOverlapping = true;
      return;
    }
    if (sine === 0) return;
  }
  const t = (wx * vy - wy * vx) / sine;
  if (t < 0 ? t * t * uu > merge * merge : t > 1 && (t - 1) * (t - 1) * uu > merge * merge) return;
  const s = (wx * uy - wy * ux) / sine;
  if (s < 0 ? s * s * vv > merge * merge : s > 1 && (s - 1) * (s - 1) * vv > merge * merge) return;
  // Measured along the shorter line: its own rounding is the smaller.
  if (uu <= vv) out.add(A[a]! + t * ux, A[a + 1]! + t * uy, merge);
  else out.add(B[b]! + s * vx, B[b + 1]! + s * vy, merge);
}

function crossLineArc(L: Float64Array, l: number, C: Float64Array, c: number, merge: number, out: Crossings): void {
  const fx = L[l]!;
  const fy = L[l + 1]!;
  const ux = L[l + 2]! - fx;
  const uy = L[l + 3]! - fy;
  const length = Math.sqrt(ux * ux + uy * uy);
  if (length === 0) return;
  const ex = ux / length;
  const ey = uy / length;
  const cx = C[c + 4]!;
  const cy = C[c + 5]!;
  const r = C[c + 6]!;
  const along = (cx - fx) * ex + (cy - fy) * ey;
  const height = (cx - fx) * ey - (cy - fy) * ex;
  const depth = r - Math.abs(height);
  if (depth < -merge) return;
  if (depth <= merge) {
    out.isNearTangent = true;
    addEndsOnOther(L, l, C, c, merge, out);
  }
  const half = depth > 0 ? Math.sqrt(depth * (r + Math.abs(height))) : 0;
  for (let k = 0; k < 2; k++) {
    const s = k === 0 ? along - half : along + half;
    if (s >= -merge && s <= length + merge) {
      const x = fx + ex * s;
      const y = fy + ey * s;
      if (isOnSweep(C, c, x, y, merge)) out.add(x, y, merge);
    }
    if (half === 0) break;
  }
}

function crossArcs(A: Float64Array, a: number, B: Float64Array, b: number, merge: number, out: Crossings): void {
  const ax = A[a + 4]!;
  const ay = A[a + 5]!;
  const dx = B[b + 4]! - ax;
  const dy = B[b + 5]! - ay;
  const r1 = A[a + 6]!;
  const r2 = B[b + 6]!;
  const apart = Math.sqrt(dx * dx + dy * dy);
  if (apart > r1 + r2 + merge || apart < Math.abs(r1 - r2) - merge) return;
  if (apart <= merge && Math.abs(r1 - r2) <= merge) {
    out.isNearTangent = true;
    addEndsOnOther(A, a, B, b, merge, out);
    out.isOverlapping = out.count >= 2 && isStretchShared(A, a, B, b, out);
    return;
  }
  if (apart === 0) return;
  // Factored so that near-touching circles lose no digits: (r1 - along) and (r1 + along) each as a product.
  const inner = ((r2 - apart + r1) * (r2 + apart - r1)) / (2 * apart);
  const outer = ((apart + r1 - r2) * (apart + r1 + r2)) / (2 * apart);
  const along = r1 - inner;
  const depth = Math.min(r1 + r2 - apart, apart - Math.abs(r1 - r2));
  if (depth <= merge) {
    out.isNearTangent = true;
    addEndsOnOther(A, a, B, b, merge, out);
  }
  const squared = inner * outer;
  const half = squared > 0 ? Math.sqrt(squared) : 0;
  const ex = dx / apart;
  const ey = dy / apart;
  for (let k = 0; k < 2; k++) {
    const h = k === 0 ? half : -half;
    const x = ax + ex * along - ey * h;
    const y = ay + ey * along + ex * h;
    if (isOnSweep(A, a, x, y, merge) && isOnSweep(B, b, x, y, merge)) out.add(x, y, merge);
    if (half === 0) break;
  }
}

/** True when a point of the arc's circle lies within its sweep, ends reaching `slack` mm further. */
function isOnSweep(C: Float64Array, c: number, x: number, y: number, slack: number): boolean {
  const cx = C[c + 4]!;
  const cy = C[c + 5]!;
  const fx = C[c]! - cx;
  const fy = C[c + 1]! - cy;
  const tx = C[c + 2]! - cx;
  const ty = C[c + 3]! - cy;
  const px = x - cx;
  const py = y - cy;
  const side = C[c + 7]! > 0 ? 1 : -1;
  const room = -slack * C[c + 6]!;
  return (
    side * (fx * py - fy * px) >= room &&
    side * (px * ty - py * tx) >= room &&
    px * (fx + tx) + py * (fy + ty) >= 4 * room
  );
}

/** True when (x, y) lies on the piece at offset `k` within `on` mm. */
function isOn(D: Float64Array, k: number, x: number, y: number, on: number): boolean {
  if (D[k + 7] === 0) {
    const ux = D[k + 2]! - D[k]!;
    const uy = D[k + 3]! - D[k + 1]!;
    const wx = x - D[k]!;
    const wy = y - D[k + 1]!;
    const squared = ux * ux + uy * uy;
    // A piece trimmed to nothing has no direction: only its place counts.
    if (squared <= on * on) return wx * wx + wy * wy <= on * on;
    const across = wx * uy - wy * ux;
    if (across * across > on * on * squared) return false;
    const along = wx * ux + wy * uy;
    const reach = on * Math.sqrt(squared);
    return along >= -reach && along <= squared + reach;
  }
  const px = x - D[k + 4]!;
  const py = y - D[k + 5]!;
  return Math.abs(Math.sqrt(px * px + py * py) - D[k + 6]!) <= on && isOnSweep(D, k, x, y, on);
}

function addEndsOnOther(A: Float64Array, a: number, B: Float64Array, b: number, merge: number, out: Crossings): void {
  const on = merge * ON_CURVE_SHARE;
  if (isOn(B, b, A[a]!, A[a + 1]!, on)) out.add(A[a]!, A[a + 1]!, merge);
  if (isOn(B, b, A[a + 2]!, A[a + 3]!, on)) out.add(A[a + 2]!, A[a + 3]!, merge);
  if (isOn(A, a, B[b]!, B[b + 1]!, on)) out.add(B[b]!, B[b + 1]!, merge);
  if (isOn(A, a, B[b + 2]!, B[b + 3]!, on)) out.add(B[b + 2]!, B[b + 3]!, merge);
}

/** Two halves of one circle meet at both ends without sharing a stretch: some middle must lie on both. */
function isStretchShared(A: Float64Array, a: number, B: Float64Array, b: number, out: Crossings): boolean {
  const cx = A[a + 4]!;
  const cy = A[a + 5]!;
  const r = A[a + 6]!;
  const x0 = out.x[0]! - cx;
  const y0 = out.y[0]! - cy;
  for (const side of [1, -1]) {
    let mx = x0 + out.x[1]! - cx;
    let my = y0 + out.y[1]! - cy;
    const length = Math.sqrt(mx * mx + my * my);
    if (length < 0.02 * r) {
      mx = -y0 * side;
      my = x0 * side;
    } else {
      mx *= (r * side) / length;
      my *= (r * side) / length;
    }
    if (isOnSweep(A, a, cx + mx, cy + my, 0) && isOnSweep(B, b, cx + mx, cy + my, 0)) return true;
  }
  return false;
}
