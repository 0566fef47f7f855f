import { apply, BY_DEFINITION, defineLaw, type Figure, type Problem, problem, type Result } from '@gapwright/base';
import { SINKING_PRACTICE } from './sources.js';

const END_ERROR = defineLaw({
  id: 'end-error-after-electrode',
  says: 'Each further electrode leaves its own wear share of the error it found.',
  formula: 'e theta',
  source: BY_DEFINITION,
  inputs: { e: { unit: 'mm', says: 'error it found' }, theta: { unit: '1', says: 'wear by volume' } },
  output: 'mm',
  evaluate: ({ e, theta }) => e * theta,
});

const REDRESS_STOCK = defineLaw({
  id: 'electrode-length',
  says: 'Length of an electrode that is cut back between uses: depth, cuts and what the holder grips.',
  formula: 'D + n (w + c) + h',
  source: SINKING_PRACTICE,
  inputs: {
    D: { unit: 'mm', says: 'depth' },
    n: { unit: '1', says: 'cuts back' },
    w: { unit: 'mm', says: 'worn edge length' },
    c: { unit: 'mm', says: 'sound material cut with it', valid: [0.1, 0.3] },
    h: { unit: 'mm', says: 'held length', valid: [10, 20] },
  },
  output: 'mm',
  evaluate: ({ D, n, w, c, h }) => D + n * (w + c) + h,
});

/** Electrodes asked for beyond this many are a sign of the wrong electrode material, not of a plan. */
const MOST_ELECTRODES = 12;

/** How many electrodes a depth takes. */
export interface ElectrodeCount {
  readonly count: number;
  /** End error after each electrode, mm, one figure per electrode. */
  readonly endErrorsMm: readonly Figure[];
}

/**
 * Electrodes needed until the end of a prismatic cavity is within `toleranceMm`. `wearByUse[k]` is the volumetric wear of
 * electrode k; the last one repeats. Stops `SINKING-TOO-MANY-ELECTRODES` when a dozen do not reach it.
 */
export function electrodesNeeded(
  depthMm: Figure,
  wearByUse: readonly [Figure, ...Figure[]],
  toleranceMm: number,
): Result<ElectrodeCount> {
  const errors: Figure[] = [];
  let error = depthMm;
  while (errors.length < MOST_ELECTRODES) {
    const wear = wearByUse[Math.min(errors.length, wearByUse.length - 1)]!;
    error = apply(END_ERROR, { e: error, theta: wear });
    errors.push(error);
    // A relative 1e-12 keeps "exactly on tolerance" on the side of the planner.
    if (error.value <= toleranceMm * (1 + 1e-12)) {
      return { value: { count: errors.length, endErrorsMm: errors }, problems: countProblems(error, toleranceMm) };
    }
  }
  const what = `${MOST_ELECTRODES} electrodes still leave ${error.value.toPrecision(2)} mm at the end, ${toleranceMm} mm is asked`;
  const fix = 'Choose an electrode material that wears less on this work, or longer pulses';
  return { value: null, problems: [problem({ code: 'SINKING-TOO-MANY-ELECTRODES', severity: 'stop', what, fix })] };
}

function countProblems(error: Figure, toleranceMm: number): readonly Problem[] {
  if (error.high <= toleranceMm) return [];
  const what = `The end error may be ${error.high.toPrecision(2)} mm at the high end of the wear, more than ${toleranceMm} mm`;
  const fix = 'Keep one more electrode ready or measure the wear on the first burn';
  return [problem({ code: 'SINKING-ELECTRODE-MARGIN', severity: 'warn', what, fix })];
}

/** Length of electrode stock for a depth and a number of cuts back, mm. */
export function electrodeLength(parts: {
  readonly depthMm: Figure;
  readonly cutsBack: Figure;
  readonly edgeWearMm: Figure;
  readonly soundMm: Figure;
  readonly heldMm: Figure;
}): Figure {
  const { depthMm, cutsBack, edgeWearMm, soundMm, heldMm } = parts;
  return apply(REDRESS_STOCK, { D: depthMm, n: cutsBack, w: edgeWearMm, c: soundMm, h: heldMm });
}
