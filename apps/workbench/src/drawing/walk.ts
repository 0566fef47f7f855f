import type { Point } from '@gapwright/geometry';
import type { PackedPaths, SceneWalk } from '@gapwright/job';
import { CENTRE_X, CENTRE_Y, FROM_Y, lengthMm, pointOn, RADIUS, STRIDE, SWEEP, TO_X, TO_Y } from './segments.js';

/** Where the wire is: how many moves are done, and the share of the next one. */
export interface WalkPlace {
  readonly move: number;
  readonly share: number;
}

export function walkEndMin(walk: SceneWalk): number {
  return walk.endMin.length === 0 ? 0 : walk.endMin[walk.endMin.length - 1]!;
}

/** The wire's place after `atMin` burning minutes. Moves that take no time are done at once. */
export function placeAt(walk: SceneWalk, atMin: number): WalkPlace {
  const { endMin } = walk;
  const count = endMin.length;
  if (count === 0 || atMin >= endMin[count - 1]!) return { move: count, share: 0 };
  // First move that ends after `atMin`.
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (endMin[middle]! > atMin) high = middle;
    else low = middle + 1;
  }
  const startMin = low === 0 ? 0 : endMin[low - 1]!;
  const share = (atMin - startMin) / (endMin[low]! - startMin);
  return { move: low, share: Math.min(1, Math.max(0, share)) };
}

/** The point of the wire's centre there; null for a walk without moves. */
export function pointAtPlace(walk: SceneWalk, place: WalkPlace): Point | null {
  const { paths } = walk;
  for (let move = Math.min(place.move, walk.endMin.length - 1); move >= 0; move--) {
    const first = paths.starts[move]!;
    const last = paths.starts[move + 1]!;
    if (last === first) continue;
    if (move < place.move) return pointOn(paths.values, (last - 1) * STRIDE, 1);
    const part = partOfMove(paths, move, 0, place.share);
    if (part.length === 0) return pointOn(paths.values, first * STRIDE, 0);
    return pointOn(part, part.length - STRIDE, 1);
  }
  return paths.values.length === 0 ? null : pointOn(paths.values, 0, 0);
}

/** Program line at work there: the move being done, or the last one at the end. */
export function lineAtPlace(walk: SceneWalk, place: WalkPlace): number | null {
  if (walk.lines.length === 0) return null;
  return walk.lines[Math.min(place.move, walk.lines.length - 1)]!;
}

/** The packed segments of one move between two shares of its length. */
export function partOfMove(paths: PackedPaths, move: number, from: number, to: number): Float64Array {
  const first = paths.starts[move]!;
  const last = paths.starts[move + 1]!;
  let total = 0;
  for (let s = first; s < last; s++) total += lengthMm(paths.values, s * STRIDE);
  if (total === 0 || to <= from) return new Float64Array(0);
  const out: number[] = [];
  let done = 0;
  for (let s = first; s < last; s++) {
    const at = s * STRIDE;
    const length = lengthMm(paths.values, at);
    const a = length === 0 ? 1 : Math.max(0, (from * total - done) / length);
    const b = length === 0 ? 0 : Math.min(1, (to * total - done) / length);
    done += length;
    if (a >= 1 || b <= a) continue;
    const start = pointOn(paths.values, at, a);
    const end = pointOn(paths.values, at, b);
    const piece = new Array<number>(STRIDE).fill(0);
    piece[0] = start.x;
    piece[FROM_Y] = start.y;
    piece[TO_X] = end.x;
    piece[TO_Y] = end.y;
    piece[CENTRE_X] = paths.values[at + CENTRE_X]!;
    piece[CENTRE_Y] = paths.values[at + CENTRE_Y]!;
    piece[RADIUS] = paths.values[at + RADIUS]!;
    piece[SWEEP] = paths.values[at + SWEEP]! * (b - a);
    out.push(...piece);
  }
  return Float64Array.from(out);
}

/** Share of one minute that keeps a step from landing on the very end it came from through rounding. */
const SAME_MIN = 1e-9;

/** Minute at which the next program line begins, or the end; stepping back gives the start of this line, then the one before. */
export function nextLineMin(walk: SceneWalk, atMin: number): number {
  const here = placeAt(walk, atMin);
  if (here.move >= walk.lines.length) return walkEndMin(walk);
  const line = walk.lines[here.move]!;
  let move = here.move;
  while (move < walk.lines.length && (walk.lines[move] === line || walk.endMin[move]! <= atMin + SAME_MIN)) move++;
  return move === 0 ? 0 : walk.endMin[move - 1]!;
}

export function previousLineMin(walk: SceneWalk, atMin: number): number {
  if (walk.lines.length === 0) return 0;
  let move = Math.min(placeAt(walk, Math.max(0, atMin - SAME_MIN)).move, walk.lines.length - 1);
  const line = walk.lines[move]!;
  while (move > 0 && walk.lines[move - 1] === line) move--;
  const startMin = move === 0 ? 0 : walk.endMin[move - 1]!;
  return startMin < atMin ? startMin : 0;
}

/** The next (or previous) moment that needs a person; null when there is none. */
export function nextStop(walk: SceneWalk, atMin: number, direction: 1 | -1): SceneWalk['stops'][number] | null {
  const later = walk.stops.filter((s) => (direction === 1 ? s.atMin > atMin + SAME_MIN : s.atMin < atMin - SAME_MIN));
  if (later.length === 0) return null;
  return later.reduce((best, s) => ((direction === 1 ? s.atMin < best.atMin : s.atMin >= best.atMin) ? s : best));
}

/** Burning time as a clock shows it: `m:ss` below an hour, `h:mm:ss` from there on. */
export function clockText(min: number): string {
  const seconds = Math.max(0, Math.round(min * 60));
  const two = (n: number): string => String(n).padStart(2, '0');
  const h = Math.floor(seconds / 3600);
  const m = Math.floor(seconds / 60) % 60;
  return h > 0 ? `${h}:${two(m)}:${two(seconds % 60)}` : `${m}:${two(seconds % 60)}`;
}
