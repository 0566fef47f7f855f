/**
 * Many contours in flat arrays, exact: what a screen draws and a worker hands over without copying.
 * Eight numbers per segment: fromX, fromY, toX, toY, centreX, centreY, radiusMm, sweepRad (signed, counter-clockwise
 * positive). `radiusMm` 0 is a straight line.
 */
export interface PackedPaths {
  readonly values: Float64Array;
  /** Index of the first segment of each path, and one past the last segment at the end. */
  readonly starts: Uint32Array;
  /** 1 where the path is closed. */
  readonly closed: Uint8Array;
}

export const NUMBERS_PER_SEGMENT = 8;
