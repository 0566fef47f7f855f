import type { Burn } from './burn.js';
import { BurnFilter } from './burn-filter.js';
import { EffectIndex } from './effect-index.js';
import { logPrior, SPREAD_NAMES, type Spreads, STARTING_SPREADS, spreadOf, withSpread } from './spreads.js';

/** More burns than this say nothing new about eight spreads; the latest are taken. */
const MOST_BURNS = 1200;
/** Steps of the search, log scale. */
const STEPS = [0.5, 0.2];

/**
 * Spreads of greatest posterior: the likelihood of every burn given the burns before it, times the priors. Coordinate search
 * from `start`, the same on every machine.
 */
export function fitSpreads(burns: readonly Burn[], start: Spreads = STARTING_SPREADS): Spreads {
  const taken = burns.slice(-MOST_BURNS);
  const index = new EffectIndex();
  const posterior = (spreads: Spreads): number => logPrior(spreads) + takeIn(taken, spreads, index).logLikelihood;
  let best = start;
  let value = posterior(best);
  for (const step of STEPS) {
    for (const name of SPREAD_NAMES) {
      for (const direction of [1, -1]) {
        let hasMoved = false;
        for (let k = 0; k < 4; k++) {
          const tried = withSpread(best, name, spreadOf(best, name) * Math.exp(direction * step));
          const triedValue = posterior(tried);
          if (!(triedValue > value)) break;
          [best, value, hasMoved] = [tried, triedValue, true];
        }
        if (hasMoved) break;
      }
    }
  }
  return best;
}

/** A filter that has taken in all burns. */
export function takeIn(burns: readonly Burn[], spreads: Spreads, index = new EffectIndex()): BurnFilter {
  const filter = new BurnFilter(spreads, index);
  for (const burn of burns) filter.observe(burn);
  return filter;
}
