import type { Box } from '@gapwright/geometry';
import type { TightBlock } from './compensation.js';
import type { Walk } from './contour-walk.js';
import type { EntryPlace, Surroundings } from './entry-places.js';
import type { WireFeature } from './plan.js';

/** A feature with what every wire's plan needs of it, worked out once. */
export interface Shape {
  readonly feature: WireFeature;
  /** Nesting depth of the contour: even numbers bound material from outside, odd ones are openings; open cuts 0. */
  readonly depth: number;
  readonly walk: Walk;
  /** Box around the contour. */
  readonly box: Box;
  /** All lines of the drawing. */
  readonly around: Surroundings;
  /** Places where a cut may begin, best first. */
  readonly entries: readonly EntryPlace[];
  /** More places, worked out only when the first ones have no room. */
  furtherEntries(): readonly EntryPlace[];
  /** True when a disc of radius `mm` fits at an arc length, see {@link EntryPlace.roomMm}. */
  hasRoomMm(s: number, mm: number): boolean;
  /** Distance along the contour to the nearest corner at an arc length, mm. */
  cornerDistanceMm(s: number): number;
  /** Blocks a controller cannot compensate at this offset; worked out once per offset. */
  readonly tightBlocks: (offsetMm: number) => readonly TightBlock[];
  /** Area of the piece that comes loose: the contour's area without the contours directly inside it, mm². */
  readonly pieceAreaMm2: number;
  /** Largest distance from a tab anywhere on the contour to the centre of the piece, mm (half the diagonal of its box). */
  readonly armMm: number;
}
