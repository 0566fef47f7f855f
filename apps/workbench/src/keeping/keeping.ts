import type { DraftJob } from '@gapwright/job';
import type {
  BookKind,
  BurnContent,
  FileRef,
  JobHistory,
  JobStage,
  KeptBookVersion,
  KeptBurnRecord,
  OfferRecord,
  PaperRequest,
  Revision,
} from '@gapwright/records';

/** Where a change is safe: nowhere yet, on this device, or on the server's disk. */
export type SavedState = 'saving' | 'kept on this device' | 'saved';

/** A job as the page holds it. */
export interface HeldJob {
  readonly jobId: string;
  readonly head: Revision;
  readonly draft: DraftJob;
  readonly stage: JobStage;
  readonly drawing: FileRef | null;
  readonly saved: SavedState;
  /** Made on another device beside ours and not settled; both are kept. */
  readonly conflict: Conflict | null;
  readonly offers: readonly OfferRecord[];
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  /** What undo and redo would do, in words. */
  readonly undoSays: string | null;
  readonly redoSays: string | null;
}

export interface Conflict {
  readonly mine: Revision;
  readonly theirs: Revision;
  /** Fields that differ, in words a planner reads: label, my value, their value. */
  readonly differences: readonly {
    readonly field: string;
    readonly label: string;
    readonly mine: string;
    readonly theirs: string;
  }[];
}

/** A version of a book with its parsed JSON. */
export interface HeldBook {
  readonly kind: BookKind;
  readonly sha256: string;
  readonly json: unknown;
  readonly version: KeptBookVersion | null;
  readonly saved: SavedState;
}

export interface Keeping {
  /** `away`: the server does not answer; everything goes on from this device. */
  readonly server: 'connected' | 'away' | 'starting';
  readonly jobs: readonly HeldJob[];
  job(jobId: string): HeldJob | undefined;

  /** Keeps the file and starts a job; resolves with its id once it is safe on this device. */
  createJob(start: {
    readonly draft: DraftJob;
    readonly drawing: { readonly fileName: string; readonly bytes: Uint8Array } | null;
    readonly says: string;
  }): Promise<string>;
  /** A new revision on top of the head. */
  editJob(jobId: string, says: string, change: (draft: DraftJob) => DraftJob): void;
  setDrawing(jobId: string, fileName: string, bytes: Uint8Array): Promise<void>;
  setStage(jobId: string, stage: JobStage, says: string): void;
  undo(jobId: string): void;
  redo(jobId: string): void;
  settle(jobId: string, keep: 'mine' | 'theirs'): void;
  /** Whole history; from the server when it is there, else what this device has. */
  history(jobId: string): Promise<JobHistory>;
  /** A new revision with the state of an old one. */
  restore(jobId: string, revisionId: string): void;

  fileBytes(sha256: string): Promise<Uint8Array>;

  /** The version in use of each kind. */
  book(kind: BookKind): HeldBook;
  bookVersions(kind: BookKind): readonly KeptBookVersion[];
  bookJson(sha256: string): Promise<unknown>;
  /** Resolves once safe on this device. The caller has validated it. */
  saveBook(kind: BookKind, json: unknown, says: string): Promise<void>;
  /** Brings an earlier version, or one that was saved beside the one in use, into use again as it is. */
  bringBackBook(kind: BookKind, sha256: string): Promise<void>;

  readonly burns: readonly KeptBurnRecord[];
  addBurns(contents: readonly BurnContent[]): Promise<void>;
  correctBurn(id: string, content: BurnContent): Promise<void>;
  strikeBurn(id: string): Promise<void>;

  /** Needs the server: papers are set there. Rejects with a sentence when it is away. */
  paperPdf(request: PaperRequest): Promise<Blob>;
  paperPages(request: PaperRequest): Promise<readonly string[]>;
  makeOffer(jobId: string, promisedDay: string | null): Promise<OfferRecord>;

  /** Everything on this device as one JSON file. */
  exportAll(): Promise<Blob>;
  /** Adds an export to what is here; rejects with a sentence, and with nothing changed, when it is not whole. */
  importAll(file: Blob): Promise<void>;
  /** What was set aside when the server turned out to be another store, newest first; each is an export. */
  setAsides(): Promise<readonly { readonly setAsideAt: string; readonly file: Blob }[]>;
}
