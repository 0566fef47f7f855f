import { seededRandom } from '@gapwright/base';
import { conformalLevel } from '../conformal.js';
import { meanOf } from '../scores.js';
import { type Baselines, baselines, type Score } from './baselines.js';
import { featureMaps, type Inputs } from './features.js';
import { learn, missOf } from './learner.js';
import { crpsMixture, type Mixture, quantileMixture, type Scale } from './mixture.js';

/** One row forecast from all the others. */
export interface RowForecast {
  readonly observed: number;
  readonly median: number;
  readonly crps: number;
  /** Probability integral transform: where the observation fell in its forecast. */
  readonly pit: number;
  readonly interval80: { readonly low: number; readonly high: number };
  readonly interval95: { readonly low: number; readonly high: number };
}

/** What a regression came to, honestly scored. All figures in the response's own unit. */
export interface Regression {
  readonly loo: Score;
  readonly baselines: Baselines;
  /** Share of rows inside their leave-one-out intervals. */
  readonly coverage: { readonly '80': number; readonly '95': number };
  readonly rows: readonly RowForecast[];
  /** Learnt from every row. */
  readonly scale: Scale;
  readonly shares: readonly { readonly name: string; readonly share: number }[];
  readonly isRobust: boolean;
  readonly isMeanOnly: boolean;
  /** In how many parts the rows were held out while precisions and shares were learnt; equal to the rows for few rows. */
  readonly parts: number;
}

/** Up to this many rows everything is learnt anew without each single row. */
const MOST_NESTED_ROWS = 60;
/** Pseudo misses behind the conformal step. */
export const PSEUDO_MISSES = 12;

function partCount(rows: number): number {
  if (rows <= MOST_NESTED_ROWS) return rows;
  return rows <= 300 ? 20 : rows <= 1000 ? 10 : 5;
}

/**
 * Learns the response from the inputs and scores the forecasts leave-one-out. A row's own response never influences its
 * forecast: precisions, scale, shares and interval widths are learnt without the part the row is in, then the other rows of the
 * part join in closed form. Needs at least 5 rows and a response that is not constant.
 */
export function learnRegression(inputs: Inputs, response: Float64Array, seed: number): Regression {
  const n = response.length;
  const maps = featureMaps(inputs);
  const parts = partCount(n);
  const order = shuffled(n, seed);
  const rows = new Array<RowForecast>(n);
  for (let part = 0; part < parts; part++) {
    const held = order.filter((_, k) => k % parts === part);
    const learnt = learn(maps, response, held, seed);
    const used = [0.8, 0.95].map((level) => conformalLevel(learnt.misses, level, PSEUDO_MISSES));
    for (const i of held) rows[i] = scoreRow(learnt.forecast(i), response[i]!, used[0]!, used[1]!);
  }
  const whole = learn(maps, response, [], seed);
  return {
    loo: {
      mae: meanOf(rows.map((r) => Math.abs(r.observed - r.median))),
      crps: meanOf(rows.map((r) => r.crps)),
    },
    baselines: baselines(inputs, response),
    coverage: {
      '80': meanOf(rows.map((r) => (isInside(r.observed, r.interval80) ? 1 : 0))),
      '95': meanOf(rows.map((r) => (isInside(r.observed, r.interval95) ? 1 : 0))),
    },
    rows,
    scale: whole.scale,
    shares: maps.map((m, k) => ({ name: m.name, share: whole.weights[k]! })).filter((s) => s.share > 0),
    isRobust: whole.isRobust,
    isMeanOnly: whole.isMeanOnly,
    parts,
  };
}

function scoreRow(mixture: Mixture, observed: number, level80: number, level95: number): RowForecast {
  const interval = (used: number): { low: number; high: number } => {
    return { low: quantileMixture(mixture, 0.5 - used / 2), high: quantileMixture(mixture, 0.5 + used / 2) };
  };
  const median = quantileMixture(mixture, 0.5);
  const side = observed < median ? -1 : 1;
  return {
    observed,
    median,
    crps: crpsMixture(mixture, observed),
    pit: 0.5 + (side * missOf(mixture, observed)) / 2,
    interval80: interval(level80),
    interval95: interval(level95),
  };
}

function isInside(y: number, { low, high }: { readonly low: number; readonly high: number }): boolean {
  return y >= low && y <= high;
}

/** The numbers below n in an order drawn by the seed. */
export function shuffled(n: number, seed: number): number[] {
  const random = seededRandom(seed);
  const order = Array.from({ length: n }, (_, i) => i);
  for (let i = n - 1; i > 0; i--) {
    const j = random.below(i + 1);
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order;
}
