import type { Contour } from './contour.js';
import type { Box, Point } from './point.js';
import { segmentBox, segmentLengthMm, tangentAt } from './segment.js';

/** Normals within this angle of opposite count as facing each other, rad: noise of drawing coordinates on short walls. */
const FACING_RAD = 1e-3;

/**
 * A part of the contour with the directions its free side looks: a line (one direction) or a circle
 * centre + rho·n over the directions n from `first` to `last` (rho > 0 convex, < 0 concave, 0 a protruding corner).
 */
export interface Wall {
  readonly isLine: boolean;
  /** Segment the wall is, or that ends in the corner. */
  readonly segment: number;
  /** Start of the line, or the circle's centre. */
  readonly x: number;
  readonly y: number;
  /** Line: unit direction and length. */
  readonly dx: number;
  readonly dy: number;
  readonly lengthMm: number;
  readonly rho: number;
  /** First and last normal (equal for a line), unit vectors towards the free side. */
  readonly n0x: number;
  readonly n0y: number;
  readonly n1x: number;
  readonly n1y: number;
  /** +1 when the normals turn counter-clockwise from first to last, -1 otherwise. */
  readonly turn: number;
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** Walls of a contour whose free side is on the left of travel: one per segment and one per corner that protrudes. */
export function wallsOf(c: Contour): Wall[] {
  const out: Wall[] = [];
  const n = c.segments.length;
  for (let i = 0; i < n; i++) {
    const s = c.segments[i]!;
    const a = tangentAt(s, 0);
    const b = tangentAt(s, 1);
    const box = segmentBox(s);
    if (s.kind === 'line') out.push(wall(i, true, s.from, a, b, segmentLengthMm(s), 0, 1, box));
    else out.push(wall(i, false, s.centre, a, b, 0, -Math.sign(s.sweepRad) * s.radiusMm, Math.sign(s.sweepRad), box));
    const next = i + 1 < n ? c.segments[i + 1] : c.isClosed ? c.segments[0] : undefined;
    if (next === undefined) continue;
    const after = tangentAt(next, 0);
    // Left turns are pockets, where nothing is nearer than the walls beside it; faint right turns are covered by the
    // slack of the walls beside them.
    if (Math.atan2(b.x * after.y - b.y * after.x, b.x * after.x + b.y * after.y) > -FACING_RAD) continue;
    const { x, y } = s.to;
    out.push(wall(i, false, s.to, b, after, 0, 0, -1, { minX: x, minY: y, maxX: x, maxY: y }));
  }
  return out;
}

/** One object shape for all walls keeps the pair loop fast. `a` and `b` are the first and last direction of travel. */
function wall(
  segment: number,
  isLine: boolean,
  at: Point,
  a: Point,
  b: Point,
  lengthMm: number,
  rho: number,
  turn: number,
  box: Box,
): Wall {
  return {
    isLine,
    segment,
    x: at.x,
    y: at.y,
    dx: a.x,
    dy: a.y,
    lengthMm,
    rho,
    n0x: -a.y,
    n0y: a.x,
    n1x: -b.y,
    n1y: b.x,
    turn,
    minX: box.minX,
    minY: box.minY,
    maxX: box.maxX,
    maxY: box.maxY,
  };
}

/**
 * Largest width at which the wall can face anything with the point q in the plane: a disc that touches the wall and does
 * not hold q is at most |q - p|² / n·(q - p) wide, and that is largest at one of the wall's ends.
 */
export function widestBefore(w: Wall, q: Point): number {
  const first = w.isLine
    ? widthThrough(w.x, w.y, w.n0x, w.n0y, q)
    : widthThrough(w.x + w.rho * w.n0x, w.y + w.rho * w.n0y, w.n0x, w.n0y, q);
  const last = w.isLine
    ? widthThrough(w.x + w.dx * w.lengthMm, w.y + w.dy * w.lengthMm, w.n1x, w.n1y, q)
    : widthThrough(w.x + w.rho * w.n1x, w.y + w.rho * w.n1y, w.n1x, w.n1y, q);
  return Math.max(first, last);
}

/** Diameter of the disc that touches (x, y) with normal n there and passes through q; infinite when q is not ahead. */
function widthThrough(x: number, y: number, nx: number, ny: number, q: Point): number {
  const ox = q.x - x;
  const oy = q.y - y;
  const ahead = ox * nx + oy * ny;
  const squared = ox * ox + oy * oy;
  // Points beside the wall, within noise of its own line, say nothing.
  return ahead > 0 && ahead * ahead >= squared * BESIDE_SQUARED ? squared / ahead : Number.POSITIVE_INFINITY;
}

/** Squared sine of the angle above a wall below which a point counts as beside it: ten times the facing slack. */
const BESIDE_SQUARED = (10 * FACING_RAD) ** 2;

/** Two places that look straight at each other. */
export interface Facing {
  readonly widthMm: number;
  readonly first: Point;
  readonly second: Point;
}

/** True when the wall has a normal in direction (x, y), give or take `FACING_RAD`. */
function looks(w: Wall, x: number, y: number): boolean {
  return (
    w.turn * (w.n0x * y - w.n0y * x) >= -FACING_RAD &&
    w.turn * (x * w.n1y - y * w.n1x) >= -FACING_RAD &&
    x * (w.n0x + w.n1x) + y * (w.n0y + w.n1y) >= -FACING_RAD
  );
}

/** Places of two walls straight across from each other, at most `limitMm` apart; null when they do not face. */
export function facing(a: Wall, b: Wall, limitMm: number): Facing | null {
  if (a.isLine) return b.isLine ? lineLine(a, b, limitMm) : lineRound(a, b, limitMm);
  if (b.isLine) return lineRound(b, a, limitMm);
  return roundRound(a, b, limitMm);
}

function lineLine(a: Wall, b: Wall, limitMm: number): Facing | null {
  // Opposite normals mean opposite directions of travel.
  if (a.dx * b.dx + a.dy * b.dy > 0 || Math.abs(a.dx * b.dy - a.dy * b.dx) > FACING_RAD) return null;
  const ox = b.x - a.x;
  const oy = b.y - a.y;
  const start = ox * a.dx + oy * a.dy;
  const end = start + b.lengthMm * (a.dx * b.dx + a.dy * b.dy);
  const low = Math.max(0, end);
  const high = Math.min(a.lengthMm, start);
  if (!(high >= low)) return null;
  const across = ox * a.n0x + oy * a.n0y;
  const slope = (b.dx * a.n0x + b.dy * a.n0y) / (a.dx * b.dx + a.dy * b.dy);
  const widthAt = (s: number): number => across + (s - start) * slope;
  // The middle where the walls are parallel to rounding, so that the place named is not at a random end.
  const atLow = widthAt(low);
  const atHigh = widthAt(high);
  const isParallel = Math.abs(atLow - atHigh) <= 1e-9;
  const s = isParallel ? (low + high) / 2 : atLow < atHigh ? low : high;
  const widthMm = widthAt(s);
  if (!(widthMm > 0 && widthMm < limitMm)) return null;
  const first = { x: a.x + a.dx * s, y: a.y + a.dy * s };
  return { widthMm, first, second: { x: first.x + a.n0x * widthMm, y: first.y + a.n0y * widthMm } };
}

function lineRound(a: Wall, b: Wall, limitMm: number): Facing | null {
  const nx = a.n0x;
  const ny = a.n0y;
  const ox = b.x - a.x;
  const oy = b.y - a.y;
  const widthMm = ox * nx + oy * ny - b.rho;
  if (!(widthMm > 0 && widthMm < limitMm)) return null;
  const along = ox * a.dx + oy * a.dy;
  const slack = widthMm * FACING_RAD;
  if (along < -slack || along > a.lengthMm + slack || !looks(b, -nx, -ny)) return null;
  const second = { x: b.x - b.rho * nx, y: b.y - b.rho * ny };
  return { widthMm, first: { x: second.x - widthMm * nx, y: second.y - widthMm * ny }, second };
}

function roundRound(a: Wall, b: Wall, limitMm: number): Facing | null {
  const ox = b.x - a.x;
  const oy = b.y - a.y;
  const d = Math.sqrt(ox * ox + oy * oy);
  const radii = a.rho + b.rho;
  if (d <= CONCENTRIC_MM) return concentric(a, b, limitMm);
  let best: Facing | null = null;
  for (const sign of [1, -1]) {
    const widthMm = sign * d - radii;
    if (!(widthMm > 0 && widthMm < (best?.widthMm ?? limitMm))) continue;
    const nx = (sign * ox) / d;
    const ny = (sign * oy) / d;
    if (!looks(a, nx, ny) || !looks(b, -nx, -ny)) continue;
    best = {
      widthMm,
      first: { x: a.x + a.rho * nx, y: a.y + a.rho * ny },
      second: { x: b.x - b.rho * nx, y: b.y - b.rho * ny },
    };
  }
  return best;
}

/** Centres closer than this are one, mm: rounding of drawing coordinates; the direction between them means nothing. */
const CONCENTRIC_MM = 1e-7;

/** Concentric walls are equally wide over a range of directions; the first common direction among the ends' is taken. */
function concentric(a: Wall, b: Wall, limitMm: number): Facing | null {
  const widthMm = -a.rho - b.rho;
  if (!(widthMm > 0 && widthMm < limitMm)) return null;
  const middleX = -a.turn * (a.n1y - a.n0y);
  const middleY = a.turn * (a.n1x - a.n0x);
  const size = Math.sqrt(middleX * middleX + middleY * middleY);
  const directions = [
    ...(size > 0 ? [[-middleX / size, -middleY / size] as const] : []),
    [a.n0x, a.n0y] as const,
    [a.n1x, a.n1y] as const,
    [-b.n0x, -b.n0y] as const,
    [-b.n1x, -b.n1y] as const,
  ];
  for (const [nx, ny] of directions) {
    if (!looks(a, nx, ny) || !looks(b, -nx, -ny)) continue;
    return {
      widthMm,
      first: { x: a.x + a.rho * nx, y: a.y + a.rho * ny },
      second: { x: b.x - b.rho * nx, y: b.y - b.rho * ny },
    };
  }
  return null;
}
