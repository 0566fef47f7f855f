import type { Result } from '@gapwright/base';
import type {
  BookKind,
  BookVersion,
  BurnRecord,
  Changes,
  JobHistory,
  KeptBookVersion,
  KeptBurnRecord,
  KeptRevision,
  OfferRecord,
  Revision,
  SavedRevision,
} from '@gapwright/records';
import type { Kysely } from 'kysely';
import type { Engine } from './connection/engine.js';
import { keepBook, readBooks, readBookText } from './keep/books.js';
import { keepBurn } from './keep/burns.js';
import { readChanges } from './keep/changes.js';
import { fileLength, keepFile, readFile } from './keep/files.js';
import { readSummaries } from './keep/job-summaries.js';
import { keepOffer, readOffer, readOffersOfJob } from './keep/offers.js';
import { readRevision, readRevisions } from './keep/read-revisions.js';
import { keepRevision } from './keep/revisions.js';
import { lastSequence } from './keep/sequence.js';
import { Refusal } from './refusal.js';
import { StorageError } from './storage-error.js';
import type { Tables } from './tables.js';

/**
 * Keeps what planners save. Nothing kept is ever changed or removed. What a `keep` method has answered is on the disk.
 * Bad input gives a result without value; a {@link StorageError} is thrown when the disk or the database fails.
 */
export interface Store {
  /** Names this store for good. */
  readonly storeId: string;
  /** Counts everything kept. */
  sequence(): Promise<number>;

  /** Answers the SHA-256 the bytes are kept under. Keeping the same bytes again does nothing. */
  keepFile(bytes: Uint8Array): Promise<string>;
  file(sha256: string): Promise<Uint8Array | null>;
  fileLength(sha256: string): Promise<number | null>;

  /** See `keepRevision` for heads and asides. Refuses an id kept with other content, unknown parents and files. */
  keepRevision(revision: Revision): Promise<Result<SavedRevision>>;
  revision(id: string): Promise<KeptRevision | null>;
  job(jobId: string): Promise<JobHistory | null>;

  keepBook(version: BookVersion, text: string): Promise<Result<KeptBookVersion>>;
  /** All versions, newest first. */
  books(kind: BookKind): Promise<readonly KeptBookVersion[]>;
  bookText(kind: BookKind, sha256: string): Promise<string | null>;

  keepBurn(record: BurnRecord): Promise<Result<KeptBurnRecord>>;

  /** Keeps an offer and the files it brings, all or nothing. */
  keepOffer(offer: OfferRecord, files: readonly Uint8Array[]): Promise<Result<OfferRecord>>;
  offer(id: string): Promise<OfferRecord | null>;

  /** Everything kept after a sequence number; at most `atOnce` records are looked at. */
  changes(after: number, atOnce?: number): Promise<Changes>;

  /** What the database finds wrong with itself, read through whole; empty when it is sound. */
  faults(): Promise<readonly string[]>;
  close(): Promise<void>;
}

/** A store on an open database whose tables are up to date. */
export function storeOn(engine: Engine, storeId: string): Store {
  const { db } = engine;
  const explained = async <T>(run: () => Promise<T>): Promise<T> => {
    try {
      return await run();
    } catch (error) {
      const says = engine.explain(error);
      throw says === null ? error : new StorageError(says, { cause: error });
    }
  };
  const write = <T>(run: (tx: Kysely<Tables>) => Promise<T>): Promise<T> =>
    explained(() => db.transaction().execute(run));
  /** One moment of the database, also while others write. */
  const read = <T>(run: (tx: Kysely<Tables>) => Promise<T>): Promise<T> =>
    explained(() => db.transaction().setAccessMode('read only').execute(run));
  const keep = async <T>(run: (tx: Kysely<Tables>) => Promise<T>): Promise<Result<T>> => {
    try {
      return { value: await write(run), problems: [] };
    } catch (error) {
      if (error instanceof Refusal) return { value: null, problems: [error.problem] };
      throw error;
    }
  };

  return {
    storeId,
    sequence: () => read(lastSequence),
    keepFile: (bytes) => write((tx) => keepFile(tx, bytes)),
    file: (sha256) => read((tx) => readFile(tx, sha256)),
    fileLength: (sha256) => read((tx) => fileLength(tx, sha256)),
    keepRevision: (revision) => keep((tx) => keepRevision(tx, revision)),
    revision: (id) => read((tx) => readRevision(tx, id)),
    job: (jobId) =>
      read(async (tx) => {
        const revisions = await readRevisions(tx, jobId);
        if (revisions.length === 0) return null;
        const [summary] = await readSummaries(tx, [jobId]);
        return { summary: summary!, revisions, offers: await readOffersOfJob(tx, jobId) };
      }),
    keepBook: (version, text) => keep((tx) => keepBook(tx, version, text)),
    books: (kind) => read((tx) => readBooks(tx, kind)),
    bookText: (kind, sha256) => read((tx) => readBookText(tx, kind, sha256)),
    keepBurn: (record) => keep((tx) => keepBurn(tx, record)),
    keepOffer: (offer, files) => keep((tx) => keepOffer(tx, offer, files)),
    offer: (id) => read((tx) => readOffer(tx, id)),
    changes: (after, atOnce) => read(async (tx) => ({ storeId, ...(await readChanges(tx, after, atOnce)) })),
    faults: () => explained(() => engine.faults()),
    close: () => engine.close(),
  };
}
