import {
  apply,
  BugError,
  BY_DEFINITION,
  defineLaw,
  type Figure,
  given,
  type Problem,
  problem,
  type Result,
  STATED_FOR_JOB,
} from '@gapwright/base';
import { DRILL_PRACTICE } from '../sources.js';
import { applyWithin } from '../validity.js';

/** Tube diameters in usual trade, mm: 0.1 to 3.0 in tenths. A shop passes the tubes it keeps. */
export const USUAL_TUBES_MM: readonly number[] = Object.freeze(Array.from({ length: 30 }, (_, k) => (k + 1) / 10));

const OVERCUT = defineLaw({
  id: 'drill-overcut',
  says: 'Overcut per side grows with the tube; usual ranges are 0.02 to 0.05 below 0.5 mm, 0.04 to 0.10 to 1.5 mm and 0.05 to 0.15 mm above.',
  formula: '0.063 sqrt(t)',
  source: DRILL_PRACTICE,
  inputs: { t: { unit: 'mm', says: 'tube diameter', valid: [0.1, 3] } },
  output: 'mm',
  scatter: { relative: 0.3, cause: 'drill-overcut' },
  evaluate: ({ t }) => 0.063 * Math.sqrt(t),
});

const HOLE = defineLaw({
  id: 'drilled-hole-size',
  says: 'The hole is wider than the tube by the overcut on either side.',
  formula: 't + 2 g',
  source: BY_DEFINITION,
  inputs: { t: { unit: 'mm', says: 'tube diameter' }, g: { unit: 'mm', says: 'overcut per side' } },
  output: 'mm',
  evaluate: ({ t, g }) => t + 2 * g,
});

const TUBES = defineLaw({
  id: 'tubes-needed',
  says: 'Tubes for a number of holes: what they use up over what a tube gives, rounded up.',
  formula: 'ceil(n u / (L − h))',
  source: BY_DEFINITION,
  inputs: {
    n: { unit: '1', says: 'holes' },
    u: { unit: 'mm', says: 'tube used per hole' },
    L: { unit: 'mm', says: 'tube length', valid: [100, 600] },
    h: { unit: 'mm', says: 'length that stays in chuck and guide' },
  },
  output: '1',
  decides: true,
  // A relative 1e-9 keeps "exactly three tubes" from turning into four by rounding.
  evaluate: ({ n, u, L, h }) => Math.ceil(((n * u) / (L - h)) * (1 - 1e-9)),
});

/** Overcut per side of a tube, mm. */
export function drillOvercut(tubeMm: Figure): Result<Figure> {
  return applyWithin(OVERCUT, { t: tubeMm });
}

/** Hole a tube drills, mm. */
export function drilledHoleSize(tubeMm: Figure, overcutMm: Figure): Figure {
  return apply(HOLE, { t: tubeMm, g: overcutMm });
}

/**
 * Tubes for `holes` holes. The used length counts at its expected value; `worst` tells how many it takes at the high end of
 * the wear. Throws a BugError when nothing is left of the tube after what is held.
 */
export function tubesNeeded(
  holes: number,
  usedPerHoleMm: Figure,
  tubeLengthMm: number,
  heldMm: number,
): { readonly expected: Figure; readonly worst: number } {
  if (!(tubeLengthMm > heldMm && holes > 0)) {
    throw new BugError(`no usable tube: length ${tubeLengthMm} mm, held ${heldMm} mm, ${holes} holes`);
  }
  const L = given(tubeLengthMm, 'mm', 'Tube length', STATED_FOR_JOB);
  const h = given(heldMm, 'mm', 'Length held', STATED_FOR_JOB);
  const n = given(holes, '1', 'Holes', STATED_FOR_JOB);
  const expected = apply(TUBES, { n, u: usedPerHoleMm, L, h });
  return { expected, worst: TUBES.evaluate({ n: holes, u: usedPerHoleMm.high, L: tubeLengthMm, h: heldMm }) };
}

/** A tube for a hole. */
export interface TubeChoice {
  readonly tubeMm: number;
  readonly overcutMm: Figure;
  /** Size the hole will have. */
  readonly holeMm: Figure;
}

/**
 * The tube whose hole comes nearest to the asked size. Stops `SMALLHOLE-NO-TUBE` when none comes within `toleranceMm` (±);
 * warns `SMALLHOLE-SIZE-UNSURE` when the 80 % interval of the size is wider than the tolerance.
 */
export function chooseTube(
  holeMm: number,
  toleranceMm: number,
  tubesMm: readonly number[] = USUAL_TUBES_MM,
): Result<TubeChoice> {
  let best: TubeChoice | undefined;
  const problems: Problem[] = [];
  let worries: readonly Problem[] = [];
  for (const tubeMm of tubesMm) {
    const tube = given(tubeMm, 'mm', 'Tube diameter', STATED_FOR_JOB);
    const overcut = drillOvercut(tube);
    if (overcut.value === null) continue;
    const hole = drilledHoleSize(tube, overcut.value);
    if (best !== undefined && Math.abs(hole.value - holeMm) >= Math.abs(best.holeMm.value - holeMm)) continue;
    best = { tubeMm, overcutMm: overcut.value, holeMm: hole };
    worries = overcut.problems;
  }
  if (best === undefined || !(Math.abs(best.holeMm.value - holeMm) <= toleranceMm)) {
    const nearest =
      best === undefined
        ? ''
        : `; the nearest is a ${best.tubeMm} mm tube, which drills ${best.holeMm.value.toFixed(3)} mm`;
    const what = `No tube drills ${holeMm} mm within ± ${toleranceMm} mm${nearest}`;
    const fix = 'Keep that tube size, widen the tolerance, or finish the hole otherwise';
    return { value: null, problems: [problem({ code: 'SMALLHOLE-NO-TUBE', severity: 'stop', what, fix })] };
  }
  problems.push(...worries);
  if (best.holeMm.high > holeMm + toleranceMm || best.holeMm.low < holeMm - toleranceMm) {
    const { low, high } = best.holeMm;
    const what = `A ${best.tubeMm} mm tube drills ${low.toFixed(3)} to ${high.toFixed(3)} mm, wider than ${holeMm} ± ${toleranceMm} mm`;
    const fix = 'Drill a test hole first, or ream';
    problems.push(problem({ code: 'SMALLHOLE-SIZE-UNSURE', severity: 'warn', what, fix }));
  }
  return { value: Object.freeze(best), problems };
}
