import { type Figure, type Problem, problem } from '@gapwright/base';

/** Share of the removal ceiling above which an estimate deserves a second look: spark erosion melts 1 to 30 % in practice. */
export const CEILING_WARN_SHARE = 0.3;

/**
 * Judges a removal rate by its share of the ceiling: above 1 the stop `PROCESS-ABOVE-CEILING`, above `warnAbove` the
 * warning `PROCESS-NEAR-CEILING`. `subject` completes "… would burn 130 % of what its power could melt".
 */
export function judgeCeiling(share: Figure, subject: string, warnAbove = CEILING_WARN_SHARE): Problem[] {
  const percent = (share.value * 100).toFixed(share.value < 0.1 ? 1 : 0);
  const what = `${subject} would burn ${percent} % of what its power could melt`;
  if (share.value > 1) {
    const fix = 'Correct the rate, the power or the material properties';
    return [problem({ code: 'PROCESS-ABOVE-CEILING', severity: 'stop', what: `${what}, which is impossible`, fix })];
  }
  if (share.value > warnAbove) {
    const fix = 'Wire cutting works at 1 to 5 %, rough sinking below 30 %; check the rate and the mean power';
    return [problem({ code: 'PROCESS-NEAR-CEILING', severity: 'warn', what, fix })];
  }
  return [];
}
