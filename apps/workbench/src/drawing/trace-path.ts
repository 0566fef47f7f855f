import { CENTRE_X, CENTRE_Y, FROM_Y, RADIUS, STRIDE, SWEEP, TO_X, TO_Y } from './segments.js';

/** The part of a canvas path that lines and arcs need. */
export interface Pen {
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
  arc(x: number, y: number, r: number, start: number, end: number, counterClockwise?: boolean): void;
}

/** A picture of the plane in device pixels: pixel of the plane's origin, pixels per mm, and the picture's size. */
export interface Raster {
  readonly originX: number;
  readonly originY: number;
  readonly pxPerMm: number;
  readonly width: number;
  readonly height: number;
  /** How far outside the picture a line may lie and still reach in with half its width, pixels. */
  readonly reachPx: number;
}

/**
 * Level of detail, device pixels. A segment is not drawn on its own while it is shorter than this and ends closer than
 * this to the last drawn point; the next drawn one starts there. So no drawn point is further from the exact
 * contour than 0.3 px, less than anybody sees, and a contour of many short pieces costs no more than its length in pixels.
 */
export const MERGE_PX = 0.3;
/** An arc that rises less than this above its chord is drawn as the chord. */
const FLAT_PX = 0.1;
/** The canvas reckons in 32-bit floats (24 bits): beyond 65,536 px a pixel's hundredth is lost, so longer pieces are cut to the picture. */
const EXACT_PX = 65_536;

/**
 * Puts segments `first` to `last` (exclusive) of one path on the pen and returns the number of pen strokes.
 * Pieces outside the picture are left out.
 */
export function tracePath(pen: Pen, values: Float64Array, first: number, last: number, raster: Raster): number {
  const { originX, originY, pxPerMm, width, height, reachPx } = raster;
  const right = width + reachPx;
  const bottom = height + reachPx;
  let strokes = 0;
  let isDown = false;
  let penX = 0;
  let penY = 0;
  let isOwed = false;
  let endX = 0;
  let endY = 0;
  for (let s = first; s < last; s++) {
    const at = s * STRIDE;
    const fx = originX + values[at]! * pxPerMm;
    const fy = originY - values[at + FROM_Y]! * pxPerMm;
    const tx = originX + values[at + TO_X]! * pxPerMm;
    const ty = originY - values[at + TO_Y]! * pxPerMm;
    const r = values[at + RADIUS]! * pxPerMm;
    const sweep = values[at + SWEEP]!;
    const rise = r === 0 ? 0 : r * (1 - Math.cos(Math.min(Math.PI, Math.abs(sweep) / 2)));
    const isOutside =
      (fx < -reachPx - rise && tx < -reachPx - rise) ||
      (fy < -reachPx - rise && ty < -reachPx - rise) ||
      (fx > right + rise && tx > right + rise) ||
      (fy > bottom + rise && ty > bottom + rise);
    if (isOutside) {
      if (isOwed) {
        pen.lineTo(endX, endY);
        strokes++;
        isOwed = false;
      }
      isDown = false;
      continue;
    }
    if (!isDown) {
      pen.moveTo(fx, fy);
      penX = fx;
      penY = fy;
      isDown = true;
    }
    const isShort = Math.abs(tx - fx) < MERGE_PX && Math.abs(ty - fy) < MERGE_PX && rise < MERGE_PX;
    if (isShort && Math.abs(tx - penX) < MERGE_PX && Math.abs(ty - penY) < MERGE_PX) {
      isOwed = true;
      endX = tx;
      endY = ty;
      continue;
    }
    isOwed = false;
    const isFar = Math.abs(fx) + Math.abs(fy) + Math.abs(tx) + Math.abs(ty) + r > EXACT_PX;
    if (rise < FLAT_PX) {
      if (isFar) isDown = clippedLine(pen, fx, fy, tx, ty, raster);
      else pen.lineTo(tx, ty);
      strokes++;
    } else {
      const cx = originX + values[at + CENTRE_X]! * pxPerMm;
      const cy = originY - values[at + CENTRE_Y]! * pxPerMm;
      // The screen's y points down, so an arc that is counter-clockwise on the plane keeps its look with negated angles.
      const start = Math.atan2(fy - cy, fx - cx);
      if (isFar) {
        strokes += chords(pen, cx, cy, r, start, -sweep, raster);
        isDown = false;
      } else {
        pen.arc(cx, cy, r, start, start - sweep, sweep > 0);
        strokes++;
      }
    }
    penX = tx;
    penY = ty;
  }
  if (isOwed) {
    // A contour smaller than the limit is still there: it becomes a dot.
    if (strokes === 0) pen.lineTo(endX + MERGE_PX, endY);
    else pen.lineTo(endX, endY);
    strokes++;
  }
  return strokes;
}

/** Draws what of a line lies in the picture (Liang and Barsky's cut). True when the pen is left at its very end. */
function clippedLine(pen: Pen, fx: number, fy: number, tx: number, ty: number, raster: Raster): boolean {
  const { width, height, reachPx } = raster;
  const dx = tx - fx;
  const dy = ty - fy;
  let from = 0;
  let to = 1;
  const edges: readonly (readonly [number, number])[] = [
    [-dx, fx + reachPx],
    [dx, width + reachPx - fx],
    [-dy, fy + reachPx],
    [dy, height + reachPx - fy],
  ];
  for (const [p, q] of edges) {
    if (p === 0) {
      if (q < 0) return false;
    } else {
      const t = q / p;
      if (p < 0) from = Math.max(from, t);
      else to = Math.min(to, t);
    }
  }
  if (from > to) return false;
  pen.moveTo(fx + dx * from, fy + dy * from);
  pen.lineTo(fx + dx * to, fy + dy * to);
  return to === 1;
}

/** A very large arc as chords that leave it by less than a tenth of a pixel, only where it is in the picture. */
function chords(pen: Pen, cx: number, cy: number, r: number, start: number, sweep: number, raster: Raster): number {
  const { width, height, reachPx } = raster;
  const middleX = width / 2 - cx;
  const middleY = height / 2 - cy;
  const away = Math.sqrt(middleX * middleX + middleY * middleY);
  const reach = Math.sqrt(width * width + height * height) / 2 + reachPx;
  if (Math.abs(away - r) > reach) return 0;
  // Seen from the centre the picture takes at most this angle to either side of its middle.
  const half = away > reach ? Math.asin(reach / away) : Math.PI;
  const towards = Math.atan2(middleY, middleX);
  const direction = Math.sign(sweep);
  const step = 2 * Math.acos(Math.max(-1, 1 - FLAT_PX / r));
  let strokes = 0;
  for (let turn = -1; turn <= 1; turn++) {
    const a = (towards - half - start) * direction + turn * 2 * Math.PI;
    const b = (towards + half - start) * direction + turn * 2 * Math.PI;
    const low = Math.max(0, Math.min(a, b));
    const high = Math.min(Math.abs(sweep), Math.max(a, b));
    if (high <= low) continue;
    const count = Math.max(1, Math.ceil((high - low) / step));
    for (let i = 0; i <= count; i++) {
      const angle = start + direction * (low + ((high - low) * i) / count);
      const x = cx + r * Math.cos(angle);
      const y = cy + r * Math.sin(angle);
      if (i === 0) pen.moveTo(x, y);
      else pen.lineTo(x, y);
    }
    strokes += count;
  }
  return strokes;
}
