import { offsetContour } from '@gapwright/geometry';
import type { DrawnContour, DrawnPass } from './drawing.js';

/** A pass and how far its wire centre runs from the contour. */
export interface PassOffset {
  readonly pass: number;
  readonly offsetMm: number;
}

/**
 * The ways of the wire's centre for all passes over all contours, for a drawing. Contours must have the part left of
 * travel (outlines counter-clockwise, openings clockwise), as planned features have; the wire then runs on the right.
 * Where an offset falls apart into several pieces, each is a path of its own; where it vanishes, nothing is drawn.
 */
export function wirePaths(contours: readonly DrawnContour[], passes: readonly PassOffset[]): DrawnPass[] {
  return contours.flatMap(({ feature, contour }) =>
    passes.flatMap(({ pass, offsetMm }) =>
      // Positive offsets go left of travel.
      offsetContour(contour, -offsetMm).map((way) => ({ feature, pass, path: way.segments })),
    ),
  );
}
