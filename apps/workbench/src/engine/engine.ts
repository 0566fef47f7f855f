import type { DraftJob, OpenedFigure, SheetAnswer, SheetPart } from '@gapwright/job';

/** Everything an answer depends on. Equal keys give equal answers. */
export interface SheetInputs {
  readonly draft: DraftJob;
  readonly drawing: { readonly sha256: string; readonly fileName: string; readonly bytes: Uint8Array } | null;
  readonly book: { readonly sha256: string; readonly json: unknown };
  readonly post: { readonly sha256: string; readonly json: unknown };
}

/** How far an answer has come. */
export interface AnswerState {
  /** The newest answer; while a newer one is worked out, the last one stays. */
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
   * `column` names the place it is shown in (`job`, `what-if`): a newer question there cancels the older one.
   */
  ask(column: string, inputs: SheetInputs, report: (state: AnswerState) => void): () => void;
  /** Opens one figure of the newest answer of a column. */
  open(column: string, figureId: string): Promise<OpenedFigure>;
}
