import type { Problem, WorkingTable } from '@gapwright/base';
import type { BurnSummary, EnquiryFact, LoggedBurn, OpenedFigure } from '@gapwright/job';
import type { BookKind, BurnContent } from '@gapwright/records';

/** Burns of a table as the log keeps them, with what was noticed. */
export interface BurnImport {
  readonly contents: readonly BurnContent[];
  readonly problems: readonly Problem[];
}

/** Small questions the places ask beside the sheet: arguments and answer of each. */
export interface SideQuestions {
  checkBook: { ask: { kind: BookKind; json: unknown }; answer: readonly Problem[] };
  readEnquiry: { ask: { text: string; bookJson: unknown; today?: string }; answer: readonly EnquiryFact[] };
  summariseBurns: { ask: { burns: readonly LoggedBurn[]; bookJson: unknown }; answer: BurnSummary };
  importBurns: { ask: { bytes: Uint8Array; fileName: string }; answer: BurnImport };
  openIn: { ask: { table: WorkingTable; figureId: string }; answer: OpenedFigure | null };
}
export type SideName = keyof SideQuestions;

export type ToSideWorker = {
  [N in SideName]: { readonly id: number; readonly name: N; readonly ask: SideQuestions[N]['ask'] };
}[SideName];

export type FromSideWorker =
  | { readonly id: number; readonly answer: SideQuestions[SideName]['answer'] }
  | { readonly id: number; readonly fault: string };
