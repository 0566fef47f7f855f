import type { Problem } from '@gapwright/base';
import type { Contour } from './contour.js';
import type { Point } from './point.js';
import type { Segment } from './segment.js';

/** One drawing entity as connected segments, with whatever the caller wants to find again (layer, handle, line). */
export interface LoosePiece<Tag> {
  readonly segments: readonly Segment[];
  readonly tag: Tag;
}

export interface ChainOptions {
  /** Ends this close are one point, mm; joined without a word. Covers the rounding of drawing coordinates. */
  readonly mergeMm: number;
  /** Gaps up to this are closed and listed, mm; larger ones never. */
  readonly joinMm: number;
}

export const CHAIN_OPTIONS: ChainOptions = { mergeMm: 1e-4, joinMm: 0.02 };

/** A contour that knows where each of its segments came from. */
export interface TaggedContour<Tag> extends Contour {
  /** One tag per segment. */
  readonly tags: readonly Tag[];
}

/** Something that was changed to make contours out of loose pieces. */
export interface Repair<Tag> {
  readonly kind: 'gap closed' | 'duplicate removed' | 'overlap trimmed' | 'zero length dropped';
  readonly at: Point;
  /** Width of the gap, length of what was removed or trimmed, mm. */
  readonly sizeMm: number;
  readonly tags: readonly Tag[];
}

export interface Chained<Tag> {
  /** In order of their first piece; directions follow the first piece. */
  readonly contours: readonly TaggedContour<Tag>[];
  readonly repairs: readonly Repair<Tag>[];
  /** `GEOMETRY-BRANCH` where three or more ends meet. */
  readonly problems: readonly Problem[];
}

/** A connected run of segments with tags, while chains are being built. */
export interface Run<Tag> {
  readonly segments: Segment[];
  readonly tags: Tag[];
}
