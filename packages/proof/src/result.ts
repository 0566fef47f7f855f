import type { Problem } from '@gapwright/base';
import type { Point } from '@gapwright/geometry';

/** What one pass did to one feature. Stock is null for roughing and where the pass met no finished wall before it. */
export interface PassOutcome {
  readonly pass: number;
  /** Least and most material this pass took off the wall where its path can touch the whole wall, mm. */
  readonly stockMinMm: number | null;
  readonly stockMaxMm: number | null;
  /** Share of the contour this pass reached, 0 to 1. */
  readonly covered: number;
}

/** Deviation of the finished wall at one place of the contour: positive is rest, negative is undercut. */
export interface DeviationSample {
  readonly at: Point;
  readonly deviationMm: number;
}

export interface FeatureOutcome {
  readonly id: string;
  /** Largest depth by which the erosion reaches into the part; 0 when it never does, mm. */
  readonly undercutMm: number;
  readonly undercutAt: Point | null;
  /** Largest thickness of material left on the part; places farther than 1 mm from every kerf count as 1 mm, mm. */
  readonly restMm: number;
  readonly restAt: Point | null;
  readonly passes: readonly PassOutcome[];
  /** Samples along the contour, in drawn direction, for a drawing of the deviation. */
  readonly errorBand: readonly DeviationSample[];
}

/** A piece cut free from the plate. */
export interface FreedSlug {
  readonly feature: string;
  readonly freedAtLine: number;
  /** True when a stop stands directly before the cut that frees it, or the set-up lets it fall unattended. */
  readonly planned: boolean;
}

/** Where the program stands after one motion. */
export interface TimeMark {
  /** Index of the motion in the list handed in. */
  readonly motion: number;
  readonly line: number;
  /** Burning minutes up to the end of this motion, from compensated length and feed. */
  readonly burnMin: number;
  /** Wire centre at the end of this motion. */
  readonly at: Point;
}

export interface ProofResult {
  readonly verdict: 'pass' | 'fail';
  readonly maxUndercutMm: number;
  readonly maxRestMm: number;
  readonly features: readonly FeatureOutcome[];
  /** Everything found, in program order where a line is known. Any of severity `stop` makes the verdict `fail`. */
  readonly findings: readonly Problem[];
  readonly slugs: readonly FreedSlug[];
  readonly erodedAreaMm2: number;
  readonly timeLine: readonly TimeMark[];
}
