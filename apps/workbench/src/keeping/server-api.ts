import type {
  BookVersion,
  BurnRecord,
  Changes,
  Health,
  JobHistory,
  KeptBookVersion,
  KeptBurnRecord,
  OfferRecord,
  OfferRequest,
  PaperRequest,
  Revision,
  SavedRevision,
} from '@gapwright/records';

/** The server does not answer: try again later, nothing is wrong with what was sent. */
export class ServerAway extends Error {
  override readonly name = 'ServerAway';
}

/** The server answered and refused; sending the same again would be refused again. */
export class ServerRefused extends Error {
  override readonly name = 'ServerRefused';
  constructor(
    readonly code: string,
    message: string,
    readonly status: number,
  ) {
    super(message);
  }
}

/** The server as keeping uses it. Every call may be repeated: ids make sending twice the same as sending once. */
export interface ServerApi {
  health(): Promise<Health>;
  changes(after: number): Promise<Changes>;
  history(jobId: string): Promise<JobHistory>;
  putRevision(revision: Revision): Promise<SavedRevision>;
  putFile(sha256: string, bytes: Uint8Array): Promise<void>;
  fileBytes(sha256: string): Promise<Uint8Array>;
  putBook(version: BookVersion, text: string): Promise<KeptBookVersion>;
  putBurn(record: BurnRecord): Promise<KeptBurnRecord>;
  makeOffer(request: OfferRequest): Promise<OfferRecord>;
  paperPdf(request: PaperRequest): Promise<Blob>;
  paperPages(request: PaperRequest): Promise<readonly string[]>;
  /** Calls back whenever the server may have something new; returns a function that stops it. */
  listen(heard: () => void): () => void;
}
