import type { Problem } from '@gapwright/base';
import type { HandOver, MadePaper, PaperAsk } from '@gapwright/hand-over';

/** A job as plain data for a worker: nothing is looked up there. */
export interface JobParts {
  /** A draft job; open fields are told as problems. */
  readonly content: unknown;
  readonly drawing: { readonly fileName: string; readonly bytes: Uint8Array };
  readonly bookText: string;
  readonly postText: string;
}

/** What a worker is asked to make. */
export type ComputeTask =
  | { readonly makes: 'paper'; readonly job: JobParts; readonly ask: PaperAsk }
  | { readonly makes: 'hand-over'; readonly job: JobParts; readonly day: string };

/** What it made; `value` is null for the problems listed. */
export interface Computed {
  paper: { readonly value: MadePaper | null; readonly problems: readonly Problem[] };
  'hand-over': { readonly value: HandOver | null; readonly problems: readonly Problem[] };
}
