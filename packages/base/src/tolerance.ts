/** Lengths below which two things count as the same, each for its own purpose. Made once per job. */
export interface Tolerance {
  /** Two points nearer than this are one point. */
  readonly mergeMm: number;
  /** Largest deviation allowed when a spline or ellipse is fitted by arcs. */
  readonly fitMm: number;
  /** Largest deviation of the finished shape that still counts as good. */
  readonly acceptMm: number;
}

/** Default fit tolerance for splines and ellipses: half a micrometre. */
export const DEFAULT_FIT_MM = 0.0005;

/** Default point merge distance. */
export const DEFAULT_MERGE_MM = 1e-6;

/** Tolerances for a job whose tightest profile tolerance is ± `profileToleranceMm`. */
export function toleranceFor(profileToleranceMm: number): Tolerance {
  return Object.freeze({
    mergeMm: DEFAULT_MERGE_MM,
    fitMm: Math.min(DEFAULT_FIT_MM, profileToleranceMm / 10),
    acceptMm: profileToleranceMm,
  });
}
