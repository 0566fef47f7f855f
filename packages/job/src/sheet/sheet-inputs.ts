import type { DraftJob } from './draft-job.js';

/** A drawing file with the SHA-256 of its bytes, by which it is known. */
export interface SheetDrawingFile {
  readonly sha256: string;
  readonly fileName: string;
  readonly bytes: Uint8Array;
}

/** JSON of a book or a post definition with the SHA-256 of its text, by which it is known. */
export interface SheetBook {
  readonly sha256: string;
  readonly json: unknown;
}

/** Everything an answer depends on. Equal drafts and hashes give equal answers. */
export interface SheetInputs {
  readonly draft: DraftJob;
  readonly drawing: SheetDrawingFile | null;
  readonly book: SheetBook;
  readonly post: SheetBook;
}
