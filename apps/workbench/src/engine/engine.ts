import type { Problem, WorkingTable } from '@gapwright/base';
import type {
  BurnSummary,
  EnquiryFact,
  LoggedBurn,
  OpenedFigure,
  SheetAnswer,
  SheetInputs,
  SheetPart,
} from '@gapwright/job';
import type { BookKind } from '@gapwright/records';
import type { BurnImport } from './side-messages.js';

export type { SheetInputs } from '@gapwright/job';

/** How far an answer has come. */
export interface AnswerState {
  /**
   * The newest answer; while a newer one is worked out, the last one stays. Tables of figures stay in the workers:
   * `figures` and `sources` of its documents are empty, {@link Engine.open} opens a figure by its id.
   */
  readonly answer: SheetAnswer | null;
  /** Parts of the asked-for answer that are there. */
  readonly done: readonly SheetPart[];
  /** What is being worked out now, in words; null when all is there. */
  readonly working: string | null;
  /** 0 to 1 where it is known. */
  readonly progress: number | null;
  /** True while `answer` belongs to earlier inputs. */
  readonly isStale: boolean;
  /** Our own fault, in one sentence; null when there is none. */
  readonly fault: string | null;
}

/** The engines in their workers. */
export interface Engine {
  /**
   * Asks for an answer and reports each part as it comes; returns a function that stops it.
   * `column` names the place it is shown in (e.g. `job:<id>`, `what-if:<id>`): a newer question there cancels the older
   * one, and its last answer stays until the newer one has a plan. The newest {@link COLUMNS_KEPT} columns are kept.
   */
  ask(column: string, inputs: SheetInputs, report: (state: AnswerState) => void): () => void;
  /** Opens one figure of the newest answer of a column. Rejects when the column has no such figure. */
  open(column: string, figureId: string): Promise<OpenedFigure>;
  /** Opens a figure of a document with its tables, such as a kept offer. Rejects when the table has no such figure. */
  openIn(table: WorkingTable, figureId: string): Promise<OpenedFigure>;
  /** What is wrong with a book or a post definition (parsed JSON). */
  checkBook(kind: BookKind, json: unknown): Promise<readonly Problem[]>;
  /** What a pasted enquiry says; `today` (`YYYY-MM-DD`) gives the year to days written without one. */
  readEnquiry(text: string, bookJson: unknown, today?: string): Promise<readonly EnquiryFact[]>;
  /** Kept burns summed up, each forecast from those before it, and what they would change in the book. */
  summariseBurns(burns: readonly LoggedBurn[], bookJson: unknown): Promise<BurnSummary>;
  /** Burns of a CSV file or workbook, ready to be kept. */
  importBurns(bytes: Uint8Array, fileName: string): Promise<BurnImport>;
  /** Ends the workers. */
  close(): void;
}

/** Columns whose last answer is remembered. */
export const COLUMNS_KEPT = 6;
