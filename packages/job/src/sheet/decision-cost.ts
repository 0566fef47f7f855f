import type { Problem } from '@gapwright/base';
import type { Outcome } from './outcome.js';
import type { DecisionCost } from './sheet-answer.js';

/** What `chosen` costs beside `computed`. Prices are compared as the margin rule gives them, not as the planner set them. */
export function decisionCost(chosen: Outcome, computed: Outcome): DecisionCost {
  const now = chosen.plan.totals;
  const was = computed.plan.totals;
  const price = chosen.offer?.computedUnitPrice.value;
  const priceWas = computed.offer?.computedUnitPrice.value;
  return {
    unitPriceChange: price === undefined || priceWas === undefined ? null : price - priceWas,
    burnMinChange: now === null || was === null ? null : now.burnMin.value - was.burnMin.value,
    attendedMinChange: now === null || was === null ? null : now.attendedMin.value - was.attendedMin.value,
    says: stopsBetween(chosen, computed),
  };
}

/** A price set by the planner moves nothing but itself. */
export function priceCost({ offer }: Outcome): DecisionCost {
  const change = offer === null ? null : offer.unitPrice.value - offer.computedUnitPrice.value;
  return { unitPriceChange: change, burnMinChange: 0, attendedMinChange: 0, says: '' };
}

function stopsBetween(chosen: Outcome, computed: Outcome): string {
  const stop = (o: Outcome): Problem | undefined => o.plan.problems.find((p) => p.severity === 'stop');
  const brought = stop(chosen);
  if (brought !== undefined) return `Cannot be burned so. ${brought.message}`;
  const removed = stop(computed);
  return removed === undefined ? '' : `The computed choice cannot be burned. ${removed.message}`;
}
