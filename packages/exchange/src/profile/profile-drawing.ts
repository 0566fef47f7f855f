import type { Box, Contour, Point } from '@gapwright/geometry';
import type { SkippedEntities } from '../dxf/drawing.js';
import type { DrawingUnits } from './units.js';

/** A contour with where it came from. */
export interface ProfileContour {
  /** Lines and arcs, mm. */
  readonly contour: Contour;
  readonly layer: string;
  /** Handles of the entities it was made from, in order along the contour; empty when the file has none. */
  readonly handles: readonly string[];
  /** Largest distance between a drawn spline or ellipse and the contour, mm; 0 when all of it is exact. */
  readonly fittedDeviationMm: number;
}

/** Something that was changed to make contours of what was drawn. */
export interface DrawingRepair {
  readonly kind: 'gap closed' | 'duplicate removed' | 'overlap trimmed' | 'zero length dropped';
  /** mm. */
  readonly at: Point;
  /** Width of the gap; length of what was removed or trimmed, mm. */
  readonly sizeMm: number;
  readonly layer: string;
  readonly handles: readonly string[];
}

/** The contours of a drawing, mm, with all that was assumed, changed or left out. */
export interface ProfileDrawing {
  readonly units: DrawingUnits;
  /** True when neither the caller nor the file named the units. */
  readonly unitsAssumed: boolean;
  readonly contours: readonly ProfileContour[];
  readonly repairs: readonly DrawingRepair[];
  readonly skipped: readonly SkippedEntities[];
  readonly largestFitDeviationMm: number;
  readonly boxMm: Box;
}
