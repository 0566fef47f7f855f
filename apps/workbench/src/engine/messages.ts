import type { DraftJob, OpenedFigure, SheetPart, SheetStep } from '@gapwright/job';

/** A file or book by its hash; the worker has it already. */
export interface SheetQuestion {
  readonly draft: DraftJob;
  readonly drawing: { readonly sha256: string; readonly fileName: string } | null;
  readonly bookSha256: string;
  readonly postSha256: string;
}

/** What the page says to a sheet worker. */
export type ToSheetWorker =
  | { readonly kind: 'hold drawing'; readonly sha256: string; readonly bytes: Uint8Array }
  | { readonly kind: 'hold book'; readonly sha256: string; readonly json: unknown }
  | { readonly kind: 'let go'; readonly sha256: string }
  | {
      readonly kind: 'ask';
      readonly id: number;
      readonly column: string;
      readonly question: SheetQuestion;
      readonly parts: readonly SheetPart[];
    }
  | { readonly kind: 'stop'; readonly id: number }
  | { readonly kind: 'forget'; readonly column: string }
  | { readonly kind: 'table'; readonly column: string; readonly json: string }
  | { readonly kind: 'open'; readonly id: number; readonly column: string; readonly figureId: string };

/** What a sheet worker says to the page. */
export type FromSheetWorker =
  | {
      readonly kind: 'step';
      readonly id: number;
      readonly step: SheetStep;
      /** Figures of the prices as JSON text, to be handed on to the worker that opens figures. */
      readonly table: string | null;
    }
  /** The question is answered as far as asked, or was stopped. */
  | { readonly kind: 'ended'; readonly id: number; readonly hasMore: boolean }
  | { readonly kind: 'opened'; readonly id: number; readonly figure: OpenedFigure | null }
  | { readonly kind: 'fault'; readonly id: number; readonly says: string };
