import type { BookKind, BookVersion, BurnRecord, JobStage, OfferRecord, Revision, Standing } from '@gapwright/records';

/** A revision on this device; `kept` is what the server said when it took it, null while only this device has it. */
export interface RevisionRow {
  readonly id: string;
  readonly jobId: string;
  readonly revision: Revision;
  readonly kept: { readonly sequence: number; readonly standing: Standing } | null;
}

/** One step that can be undone: it led from the state of revision `from` to that of revision `to`. */
export interface StepBack {
  readonly says: string;
  readonly from: string;
  readonly to: string;
}

/** A job on this device. */
export interface JobRow {
  readonly jobId: string;
  /** What the planner sees here. */
  readonly headId: string;
  /** Head on the server as far as this device has heard; null while the server never took the job. */
  readonly serverHeadId: string | null;
  /** Tips made beside the server's head and not settled. */
  readonly asideIds: readonly string[];
  /** How many revisions the server had when it last spoke of this job; an answer with fewer is old news. */
  readonly serverRevisionCount: number;
  readonly undo: readonly StepBack[];
  readonly redo: readonly StepBack[];
}

/** A file by its content. */
export interface FileRow {
  readonly sha256: string;
  readonly fileName: string;
  readonly bytes: Uint8Array;
}

/**
 * A version of a book; `text` is null until it was fetched. An earlier text may come into use again as a version of its
 * own, so the hash alone does not name a row.
 */
export interface BookRow {
  /** See `bookKey`. */
  readonly key: string;
  readonly sha256: string;
  readonly kind: BookKind;
  readonly version: BookVersion;
  readonly kept: { readonly sequence: number; readonly isCurrent: boolean } | null;
  readonly text: string | null;
}

export interface BurnRow {
  readonly id: string;
  readonly record: BurnRecord;
  readonly kept: { readonly sequence: number } | null;
}

export interface OfferRow {
  readonly id: string;
  readonly jobId: string;
  readonly offer: OfferRecord;
}

export type SentKind = 'file' | 'revision' | 'book' | 'burn';

/** Something the server has not yet answered for. */
export interface OutboxRow {
  /** `KIND:ID`; a thing waits once. */
  readonly key: string;
  readonly kind: SentKind;
  readonly id: string;
  /** The job it belongs to; null for files, books and burns. */
  readonly jobId: string | null;
  /** Sent in this order. */
  readonly order: number;
  /** True once it may have left this device: from then on it is never changed. */
  readonly tried: boolean;
}

/** Data put out of the way when the page met another store; never removed by the page. */
export interface SetAsideRow {
  readonly key: string;
  readonly storeId: string | null;
  readonly text: string;
}

/** What the device remembers about keeping itself. */
export interface MetaRow {
  readonly key: 'store' | 'order';
  readonly storeId: string | null;
  readonly value: number;
}

export interface Rows {
  readonly revisions: RevisionRow;
  readonly jobs: JobRow;
  readonly files: FileRow;
  readonly books: BookRow;
  readonly burns: BurnRow;
  readonly offers: OfferRow;
  readonly outbox: OutboxRow;
  readonly setAside: SetAsideRow;
  readonly meta: MetaRow;
}
export type StoreName = keyof Rows;

/** The field that names a row in each store. */
export const KEY_OF = {
  revisions: 'id',
  jobs: 'jobId',
  files: 'sha256',
  books: 'key',
  burns: 'id',
  offers: 'id',
  outbox: 'key',
  setAside: 'key',
  meta: 'key',
} as const satisfies { [S in StoreName]: keyof Rows[S] };

export const STORE_NAMES = Object.keys(KEY_OF) as StoreName[];

export const bookKey = (version: BookVersion): string =>
  `${version.kind} ${version.sha256} ${version.madeAt} ${version.parent ?? 'first'}`;

export function keyOf<S extends StoreName>(store: S, row: Rows[S]): string {
  return (row as unknown as Record<string, string>)[KEY_OF[store]] as string;
}

/** What a planner can change about a job, all of it in every revision. */
export interface JobState {
  readonly content: Readonly<Record<string, unknown>>;
  readonly stage: JobStage;
  readonly drawing: Revision['drawing'];
}

export function stateOf(revision: Revision): JobState {
  return { content: revision.content, stage: revision.stage, drawing: revision.drawing };
}
