import { conformalLevel } from '../conformal.js';
import { coverageOf, meanOf } from '../scores.js';
import type { Score } from './baselines.js';
import { featureMaps, type Inputs } from './features.js';
import { PSEUDO_MISSES, shuffled } from './learn-regression.js';
import { learn } from './learner.js';
import { crpsMixture, quantileMixture } from './mixture.js';

/** Scores of forecasts made without the whole fold a row is in: harder than leave-one-out. */
export interface KFold {
  readonly folds: number;
  readonly score: Score;
  readonly coverage: { readonly '80': number; readonly '95': number };
}

/**
 * Forecasts every row from the rows outside its fold alone. Nothing of the fold is seen: scale, shares, precisions,
 * widths and coefficients come from the other rows. Folds are drawn by the seed. Needs at least 5 rows outside each fold.
 */
export function kFold(inputs: Inputs, response: Float64Array, folds: number, seed: number): KFold {
  const n = response.length;
  const order = shuffled(n, seed);
  const observed: number[] = [];
  const errors: number[] = [];
  const scores: number[] = [];
  const intervals: Record<'80' | '95', { low: number; high: number }[]> = { '80': [], '95': [] };
  for (let fold = 0; fold < folds; fold++) {
    const train = order.filter((_, k) => k % folds !== fold);
    for (const row of order.filter((_, k) => k % folds === fold)) {
      // The row stands last and is held out; the rest of its fold is not there at all.
      const rows = [...train, row];
      const last = rows.length - 1;
      const y = Float64Array.from(rows, (i) => response[i]!);
      const learnt = learn(featureMaps(chosenRows(inputs, rows)), y, [last], seed);
      const forecast = learnt.forecast(last);
      const value = response[row]!;
      observed.push(value);
      errors.push(Math.abs(value - quantileMixture(forecast, 0.5)));
      scores.push(crpsMixture(forecast, value));
      for (const [name, level] of [
        ['80', 0.8],
        ['95', 0.95],
      ] as const) {
        const used = conformalLevel(learnt.misses, level, PSEUDO_MISSES);
        intervals[name].push({
          low: quantileMixture(forecast, 0.5 - used / 2),
          high: quantileMixture(forecast, 0.5 + used / 2),
        });
      }
    }
  }
  return {
    folds,
    score: { mae: meanOf(errors), crps: meanOf(scores) },
    coverage: { '80': coverageOf(observed, intervals['80']), '95': coverageOf(observed, intervals['95']) },
  };
}

/** The inputs of some rows; columns that are constant among them stay, and carry no weight. */
function chosenRows(inputs: Inputs, rows: readonly number[]): Inputs {
  return {
    rows: rows.length,
    numeric: inputs.numeric.map((c) => Float64Array.from(rows, (i) => c[i]!)),
    groups: inputs.groups.map(({ levelOf, levels }) => ({
      levels,
      levelOf: Int32Array.from(rows, (i) => levelOf[i]!),
    })),
  };
}
