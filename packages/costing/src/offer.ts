import {
  apply,
  BY_DEFINITION,
  DEFAULT_DRAWS,
  type Figure,
  given,
  quantile,
  STATED_FOR_JOB,
  sampleFigures,
} from '@gapwright/base';
import type { Plan } from '@gapwright/planning';
import type { ShopBook } from '@gapwright/process';
import { type CostBuildUp, costPlan } from './cost-build-up.js';
import { expectedCost, lossRiskOf, orderValueOf, priceAtRiskOf, priceFromMargin } from './laws.js';

/** Price for one quantity, with the chance of losing money at it. */
export interface Offer {
  readonly quantity: number;
  readonly currency: string;
  readonly costs: CostBuildUp;
  /** Mean cost per piece over the draws. */
  readonly expectedUnitCost: Figure;
  /** The price that goes to the customer: the planner's own, or the computed one. */
  readonly unitPrice: Figure;
  /** What the margin rule gives, kept beside a price of the planner's own. */
  readonly computedUnitPrice: Figure;
  readonly orderValue: Figure;
  /** Share of draws in which a piece costs more than its price. */
  readonly lossRisk: Figure;
  /** Prices at which the loss risk would be this. */
  readonly atRisk: readonly { readonly risk: number; readonly unitPrice: Figure }[];
}

export interface OfferOptions {
  /** Start of the random numbers; the same seed gives the same offer. */
  readonly seed: number;
  readonly draws?: number;
  /** The planner's own price per piece. */
  readonly unitPrice?: number;
}

/** Risks for which a price is always shown. */
const SHOWN_RISKS = [0.05, 0.1, 0.2] as const;

/** Prices a finished plan. */
export function offerFor(plan: Plan, book: ShopBook, options: OfferOptions): Offer {
  const costs = costPlan(plan, book);
  const draws = options.draws ?? DEFAULT_DRAWS;
  const [sample] = sampleFigures([costs.perPiece], options.seed, draws);
  const pieces = given(costs.quantity, '1', 'Quantity asked for', STATED_FOR_JOB);
  const median = costs.perPiece;
  const drawn = (value: number, says: string): Figure =>
    given(
      value / median.value,
      '1',
      `${says} of ${draws} draws, over the median figure (seed ${options.seed})`,
      BY_DEFINITION,
    );

  const mean = sample!.reduce((total, value) => total + value, 0) / sample!.length;
  const expected = apply(expectedCost, { median, meanOverMedian: drawn(mean, 'Mean') });
  const { marginRatio: margin, minimumOrder } = book.rates;
  const computed = apply(priceFromMargin, { expected, margin, minimumOrder, pieces });
  const unitPrice =
    options.unitPrice === undefined
      ? computed
      : given(options.unitPrice, 'EUR', 'Price per piece set by the planner', STATED_FOR_JOB);

  const losing = sample!.reduce((n, cost) => n + (cost > unitPrice.value ? 1 : 0), 0) / sample!.length;
  const share = given(losing, '1', `Counted over ${draws} draws (seed ${options.seed})`, BY_DEFINITION);
  return {
    quantity: costs.quantity,
    currency: book.currency,
    costs,
    expectedUnitCost: expected,
    unitPrice,
    computedUnitPrice: computed,
    orderValue: apply(orderValueOf, { price: unitPrice, pieces }),
    lossRisk: apply(lossRiskOf, { cost: median, price: unitPrice, share }),
    atRisk: SHOWN_RISKS.map((risk) => ({
      risk,
      unitPrice: apply(priceAtRiskOf, {
        median,
        quantileOverMedian: drawn(quantile(sample!, 1 - risk), `${Math.round((1 - risk) * 100)} % point`),
      }),
    })),
  };
}
