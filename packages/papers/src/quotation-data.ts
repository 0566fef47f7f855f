import type { Problem } from '@gapwright/base';
import type { Drawing } from './drawing/drawing.js';
import type { PaperHead, PaperPart } from './paper-head.js';
import type { Spread } from './spread.js';

/** Price at one quantity, in the quotation's currency. */
export interface QuotedPrice {
  readonly quantity: number;
  readonly unitPrice: number;
  readonly totalPrice: number;
}

/** Something the customer could change, with what it would save. */
export interface PriceDriver {
  /** One sentence, e.g. "An inside corner of 0.20 mm in place of 0.12 mm allows the thicker wire". */
  readonly says: string;
  /** Computed change of the price per part, in the currency; negative is cheaper. */
  readonly priceChange?: number;
  /** The same as a share of the price per part (−0.12 is 12 % cheaper). */
  readonly relativeChange?: number;
}

/** Printed only for the shop's own eyes. */
export interface InternalCost {
  readonly lines: readonly { readonly title: string; readonly costPerPart: Spread }[];
  readonly byQuantity: readonly {
    readonly quantity: number;
    readonly costPerPart: Spread;
    /** Margin as a share of the cost. */
    readonly marginRatio: number;
    /** Chance, 0 to 1, that the job costs more than it is sold for. */
    readonly lossRisk: number;
  }[];
}

/** Everything a quotation prints. */
export interface QuotationData extends PaperHead {
  readonly customer: { readonly name: string; readonly contact?: string; readonly lines?: readonly string[] };
  /** Last day of validity, `YYYY-MM-DD`. */
  readonly validUntil?: string;
  /** ISO 4217 code, e.g. `EUR`. */
  readonly currency: string;
  readonly part: PaperPart;
  readonly drawing?: Drawing;
  readonly prices: readonly QuotedPrice[];
  /** What can be said about delivery; nothing is printed without it. */
  readonly delivery?: string;
  readonly drivers: readonly PriceDriver[];
  /** What the price takes for granted. */
  readonly assumptions: readonly string[];
  /** Open questions found while planning. */
  readonly problems: readonly Problem[];
  /** What we would ask the customer. */
  readonly asks: readonly string[];
  readonly terms: readonly string[];
  /** With it the paper becomes the shop's own copy and says so on every page; without it no cost is printed. */
  readonly internal?: InternalCost;
}
