import { type Problem, problem } from '@gapwright/base';
import type { NestedFeature } from './features.js';

/** Two outlines whose lengths and areas differ by less than this share are the same part. */
const SAME_PART_SHARE = 1e-6;

/**
 * Finished pieces one plate gives. Equal outlines are copies of one part, so each counts; different ones together make
 * one set. Without an outline the plate itself is the piece.
 */
export function partsPerPlate(features: readonly NestedFeature[]): { count: number; problems: Problem[] } {
  const outlines = features.filter((f) => f.feature.role === 'outline').map((f) => f.feature);
  const first = outlines[0];
  if (first === undefined || outlines.length === 1) return { count: 1, problems: [] };
  const isSame = (a: number, b: number): boolean => Math.abs(a - b) <= SAME_PART_SHARE * Math.abs(a);
  const openings = (id: string): number => features.filter((f) => f.feature.partOf === id).length;
  const areEqual = outlines.every(
    (o) =>
      isSame(first.areaMm2, o.areaMm2) && isSame(first.lengthMm, o.lengthMm) && openings(o.id) === openings(first.id),
  );
  if (areEqual) return { count: outlines.length, problems: [] };
  const what = `The drawing holds ${outlines.length} outlines that differ; one plate counts as one set of them`;
  const fix = 'Plan them one by one if they are ordered in different numbers';
  return { count: 1, problems: [problem({ code: 'PLAN-SET-OF-PARTS', severity: 'info', what, fix })] };
}
