import { BugError } from '@gapwright/base';
import { BoxTree } from './box-tree.js';
import { type Contour, contour, lengthMm } from './contour.js';
import { cullCovered } from './offset-cull.js';
import { RawOffset, rawOffset } from './offset-raw.js';
import { keepsDistance, type Slice, sliceRaw } from './offset-slices.js';
import { packSource } from './offset-source.js';
import { chainContour, type Stitched, stitch } from './offset-stitch.js';
import { Pieces, STRIDE } from './pieces.js';
import { crossesItself } from './self-intersections.js';

/** Settings of {@link offsetContour}. */
export interface OffsetOptions {
  /** Points nearer than this are one point, mm. Default {@link OFFSET_MERGE_MM}. */
  readonly mergeMm?: number;
}

/** Default merge length, mm: a thousandth of a micrometre, a thousand times the rounding at 1 m. */
export const OFFSET_MERGE_MM = 1e-6;

/** A slice may come nearer than the distance by this share of the merge length: room for rounding. */
const NEARNESS_SHARE = 1e-2;
/** Slice ends this many merge lengths apart still join: each end may be off by one. */
const JOIN_MERGES = 2;

/** Ends of pieces that rounding could not decide on stay far below this length; whole features lie far above. */
const STRAY_MM = 0.01;

// Working memory, free again when a call returns.
const sourceTree = new BoxTree();
const sourcePieces = new Pieces(64);
const thisSide = new RawOffset();
const otherSide = new RawOffset();

/**
 * The curves at `distanceMm` from the contour, to the left of travel when positive, to the right when negative. Lines
 * stay lines, arcs concentric arcs; convex corners get round joins; whatever would come nearer to any part of the
 * contour is cut away, so the result may fall into several contours or vanish (empty list). Results of a closed contour
 * keep its sense of travel (holes that open run the other way). Results of an open contour are open.
 *
 * A contour that crosses itself is offset by the same rule; where the other side's offset takes over, a result ends
 * and is open. Arcs whose ends lie off their circle (drawings with few decimals) are taken through their ends.
 *
 * @throws BugError when pieces of the result do not join up: our own mistake, worth a report.
 */
export function offsetContour(c: Contour, distanceMm: number, options?: OffsetOptions): Contour[] {
  const mergeMm = options?.mergeMm ?? OFFSET_MERGE_MM;
  if (Math.abs(distanceMm) <= mergeMm) return c.segments.length === 0 ? [] : [contour(c.segments, c.isClosed)];
  const source = sourcePieces;
  packSource(c, mergeMm, source);
  if (source.count === 0) return [];
  sourceTree.build(source);
  const hasOtherSide = !c.isClosed || crossesItself(source, sourceTree, true, mergeMm);
  const { raw, stitched } = attempt(source, c.isClosed, distanceMm, mergeMm, hasOtherSide);
  const out: Contour[] = [];
  for (const chain of stitched.chains) {
    const made = chainContour(raw, chain, c.isClosed, mergeMm);
    if (made === undefined) continue;
    if (made.isClosed || hasOtherSide) out.push(made);
    else refuseStray(lengthMm(made), distanceMm);
  }
  if (!hasOtherSide) {
    for (const s of stitched.dropped) refuseStray(Math.abs(s.toX - s.fromX) + Math.abs(s.toY - s.fromY), distanceMm);
  }
  return out;
}

/** A simple closed contour has closed offsets only: a path left over means that one was lost, never to be kept quiet. */
function refuseStray(strayMm: number, distanceMm: number): void {
  if (strayMm > STRAY_MM) {
    throw new BugError(
      `Offset by ${distanceMm} mm left ${strayMm} mm of path that joins nothing; report this contour.`,
    );
  }
}

function attempt(source: Pieces, isClosed: boolean, distanceMm: number, mergeMm: number, withOtherSide: boolean) {
  const raw = rawOffset(source, isClosed, distanceMm, mergeMm, thisSide);
  const cutters = withOtherSide ? boundsFromOtherSide(source, isClosed, distanceMm, mergeMm) : undefined;
  const limitMm = Math.abs(distanceMm) - mergeMm * NEARNESS_SHARE;
  cullCovered(raw, source, sourceTree, limitMm);
  const slices = sliceRaw(raw, isClosed, cutters, mergeMm);
  const good = slices.filter(
    (s) => !isTiny(raw.pieces, s, mergeMm) && keepsDistance(raw, s, source, sourceTree, limitMm),
  );
  const stitched: Stitched = stitch(raw, good, JOIN_MERGES * mergeMm, distanceMm > 0 ? 1 : -1);
  return { raw, stitched };
}

/** What bounds the left offset besides itself: the right offset, and circles round the ends of an open contour. */
function boundsFromOtherSide(source: Pieces, isClosed: boolean, distanceMm: number, mergeMm: number): Pieces {
  const { pieces } = rawOffset(source, isClosed, -distanceMm, mergeMm, otherSide);
  if (isClosed) return pieces;
  const d = source.data;
  const last = (source.count - 1) * STRIDE;
  const r = Math.abs(distanceMm);
  for (const [x, y] of [
    [d[0]!, d[1]!],
    [d[last + 2]!, d[last + 3]!],
  ] as const) {
    pieces.push(x + r, y, x - r, y, x, y, r, Math.PI);
    pieces.push(x - r, y, x + r, y, x, y, r, Math.PI);
  }
  return pieces;
}

function isTiny(pieces: Pieces, s: Slice, mergeMm: number): boolean {
  return !s.isWhole && s.fromPiece === s.toPiece && !isTelling(pieces, s, mergeMm);
}

/** True when the slice is longer than `lengthMm`, judged by its extent. */
function isTelling(pieces: Pieces, s: Slice, lengthMm: number): boolean {
  const dx = s.toX - s.fromX;
  const dy = s.toY - s.fromY;
  if (dx * dx + dy * dy > lengthMm * lengthMm) return true;
  if (s.toPiece - s.fromPiece < 2) return false;
  const k = ((s.fromPiece + 1) % pieces.count) * STRIDE;
  const d = pieces.data;
  return Math.abs(d[k + 2]! - d[k]!) + Math.abs(d[k + 3]! - d[k + 1]!) > lengthMm;
}
