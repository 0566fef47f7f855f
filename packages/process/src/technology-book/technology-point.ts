import type { Source } from '@gapwright/base';
import type { ErosionProcess, TechnologyQuantity } from './quantities.js';

/** Values by quantity name; the unit is in the name. */
export type QuantityValues = Readonly<Partial<Record<TechnologyQuantity, number>>>;

/** One burn somebody reports: under these conditions, this came out. */
export interface TechnologyPoint {
  /** Unique in a book; stable when the table is imported again. */
  readonly id: string;
  readonly process: ErosionProcess;
  readonly material: string;
  /** Electrode, wire or tube in words, e.g. `graphite`. */
  readonly tool: string;
  readonly conditions: QuantityValues;
  readonly results: QuantityValues;
  readonly source: Source;
  readonly note?: string;
}

/** A set of points under one name and version. */
export interface TechnologyBook {
  readonly name: string;
  readonly version: string;
  readonly points: readonly TechnologyPoint[];
}
