import type { Drawing } from './drawing/drawing.js';
import type { PaperHead, PaperPart } from './paper-head.js';

/** One change the customer could accept, in the customer's words, with the price it would give. */
export interface LetterChange {
  /** A few words, e.g. "Larger inside corners". */
  readonly title: string;
  /** What changes, one sentence with the value asked for now and the one proposed. */
  readonly says: string;
  /** Why it is cheaper, one sentence. */
  readonly because: string;
  /** What the customer must look at before saying yes, one sentence. */
  readonly check: string;
  /** Price per part with this change alone, in the letter's currency. */
  readonly unitPrice: number;
  /** Quantity that price holds for, when it is not the letter's. */
  readonly quantity?: number;
  /** Labels of the places on the part it is about; empty when it is about the whole part. */
  readonly places: readonly string[];
}

/** A place named in the picture, in words. */
export interface LetterPlace {
  /** As in the picture, e.g. "(1)". */
  readonly label: string;
  readonly says: string;
}

/** Everything the letter about changes prints: prices only, never what stands behind them. */
export interface LetterData extends PaperHead {
  readonly customer: { readonly name: string; readonly contact?: string; readonly lines?: readonly string[] };
  /** Last day the prices hold, `YYYY-MM-DD`. */
  readonly validUntil: string;
  /** ISO 4217 code, e.g. `EUR`. */
  readonly currency: string;
  readonly part: PaperPart;
  readonly quantity: number;
  /** Price per part as asked for. */
  readonly unitPrice: number;
  readonly drawing?: Drawing;
  readonly places: readonly LetterPlace[];
  /** At least one, most saving first. */
  readonly changes: readonly LetterChange[];
}
