import type { WireFeature } from './plan.js';

/** Digits of length and area in which equal shapes agree: rounding of drawings, far below any tolerance. */
const SAME_DIGITS = 7;

/**
 * How many different shapes the features have: fifty equal openings are programmed once and measured once. Mirrored
 * shapes count as equal; they share every size.
 */
export function distinctShapes(features: readonly WireFeature[]): number {
  const shapes = new Set<string>();
  for (const { role, lengthMm, areaMm2, contour } of features) {
    const sizes = [lengthMm, areaMm2].map((v) => v.toPrecision(SAME_DIGITS)).join(' ');
    shapes.add(`${role} ${contour.segments.length} ${sizes}`);
  }
  return shapes.size;
}
