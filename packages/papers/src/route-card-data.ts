import type { PaperHead, PaperPart } from './paper-head.js';
import type { Spread } from './spread.js';

/** One operation of the route; times are for one run. */
export interface RouteOperation {
  readonly number: number;
  readonly title: string;
  /** Machine id and name, or the bench. */
  readonly machine: string;
  readonly runs: number;
  readonly machineMin: Spread;
  readonly attendedMin: Spread;
  /** Moments that need a person, one sentence each. */
  readonly touches?: readonly string[];
  readonly program?: string;
}

/** Everything a route card prints. */
export interface RouteCardData extends PaperHead {
  readonly part: PaperPart;
  readonly quantity: number;
  /** `YYYY-MM-DD`. */
  readonly due?: string;
  readonly customer?: string;
  readonly operations: readonly RouteOperation[];
  /** For the whole quantity; a plan's totals fit as they are. */
  readonly totals?: {
    readonly burnMin: Spread;
    readonly machineMin: Spread;
    readonly attendedMin: Spread;
    readonly touches: Spread;
  };
}
