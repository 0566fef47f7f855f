import type { Source } from '@gapwright/base';
import type { ErosionProcess, TechnologyQuantity } from './quantities.js';
import type { TechnologyPoint } from './technology-point.js';

/** One column of the table and what it holds. Nothing is guessed from headers. */
export interface ColumnMapping {
  /** Header as it stands in the table. */
  readonly header: string;
  readonly quantity: TechnologyQuantity;
  /** Unit the column is in, e.g. `us`, `in2/h`, `g/min`. */
  readonly unit: string;
  /** Needed when a mass rate becomes a volume rate. */
  readonly densityGPerCm3?: number;
}

/** A text for all rows, or the column that holds it. */
export type TextMapping = { readonly text: string } | { readonly column: string };

/** How a table becomes technology points. */
export interface ImportMapping {
  /** Start of the points' ids; the row number follows. */
  readonly idPrefix: string;
  readonly process: ErosionProcess;
  readonly material: TextMapping;
  readonly tool: TextMapping;
  readonly source: Source;
  readonly columns: readonly ColumnMapping[];
  /** Decimal sign of the table. Default `.`. */
  readonly decimal?: '.' | ',';
  /** Energy to warm and melt the work, J/mm³, for the heat balance; without it results are not held against the ceiling. */
  readonly meltEnergyJPerMm3?: number;
}

/** A number as the table writes it, with how finely it is written. */
export interface CellNumber {
  readonly value: number;
  /** One step of the last written digit, in the quantity's unit. */
  readonly step: number;
}

/** One imported row before it is judged. */
export interface ImportedRow {
  /** Row in the table; the header is row 1. */
  readonly row: number;
  readonly point: TechnologyPoint;
  readonly cells: Readonly<Partial<Record<TechnologyQuantity, CellNumber>>>;
}
