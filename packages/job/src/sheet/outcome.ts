import type { Offer } from '@gapwright/costing';
import type { Plan } from '@gapwright/planning';

/** A plan with its price; both as they are now, or as they would be with one decision left to the plan. */
export interface Outcome {
  readonly plan: Plan;
  readonly offer: Offer | null;
}
