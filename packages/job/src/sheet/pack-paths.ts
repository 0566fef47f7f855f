import { type Box, contourBox, type Segment, unionBox } from '@gapwright/geometry';
import { NUMBERS_PER_SEGMENT, type PackedPaths } from './packed-paths.js';

/** A path to be packed. */
export interface LoosePath {
  readonly segments: readonly Segment[];
  readonly isClosed: boolean;
}

/** Packs paths as they are: lines stay lines and arcs stay arcs. */
export function packPaths(paths: readonly LoosePath[]): PackedPaths {
  let count = 0;
  for (const path of paths) count += path.segments.length;
  const values = new Float64Array(count * NUMBERS_PER_SEGMENT);
  const starts = new Uint32Array(paths.length + 1);
  const closed = new Uint8Array(paths.length);
  let at = 0;
  for (const [i, path] of paths.entries()) {
    starts[i] = at / NUMBERS_PER_SEGMENT;
    closed[i] = path.isClosed ? 1 : 0;
    for (const s of path.segments) {
      values[at] = s.from.x;
      values[at + 1] = s.from.y;
      values[at + 2] = s.to.x;
      values[at + 3] = s.to.y;
      if (s.kind === 'arc') {
        values[at + 4] = s.centre.x;
        values[at + 5] = s.centre.y;
        values[at + 6] = s.radiusMm;
        values[at + 7] = s.sweepRad;
      }
      at += NUMBERS_PER_SEGMENT;
    }
  }
  starts[paths.length] = count;
  return { values, starts, closed };
}

/** Box around all paths; null when there is nothing in them. */
export function boxOfPaths(paths: readonly LoosePath[]): Box | null {
  let box: Box | null = null;
  for (const { segments, isClosed } of paths) {
    if (segments.length === 0) continue;
    const own = contourBox({ segments, isClosed });
    box = box === null ? own : unionBox(box, own);
  }
  return box;
}
