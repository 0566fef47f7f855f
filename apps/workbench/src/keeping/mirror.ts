import {
  type BookRow,
  type BurnRow,
  type JobRow,
  keyOf,
  type MetaRow,
  type OfferRow,
  type OutboxRow,
  type RevisionRow,
  type Rows,
  type StoreName,
} from './rows.js';
import type { RowChange, Storage } from './storage.js';

/** Stores whose rows the page holds in memory; files stay on disk. */
const MIRRORED = ['jobs', 'revisions', 'outbox', 'offers', 'books', 'burns', 'meta'] as const satisfies StoreName[];
const isMirrored = (store: StoreName): store is (typeof MIRRORED)[number] =>
  (MIRRORED as readonly StoreName[]).includes(store);

/** What changed, as far as screens care. */
export interface Touched {
  readonly jobIds: Set<string>;
  books: boolean;
  burns: boolean;
  outbox: boolean;
}

/** The rows screens need, in memory. Written only from rows that are on disk. */
export class Mirror {
  readonly jobs = new Map<string, JobRow>();
  readonly revisions = new Map<string, RevisionRow>();
  readonly outbox = new Map<string, OutboxRow>();
  readonly offers = new Map<string, OfferRow>();
  readonly books = new Map<string, BookRow>();
  readonly burns = new Map<string, BurnRow>();
  readonly meta = new Map<string, MetaRow>();

  async load(storage: Storage): Promise<void> {
    for (const store of MIRRORED) (this[store] as Map<string, unknown>).clear();
    const changes = await storage.read(async (tx) => {
      const found: RowChange[] = [];
      for (const store of MIRRORED) {
        // Of revisions only those on screen; histories are long.
        if (store === 'revisions') continue;
        for (const row of await tx.all(store)) found.push(changeOf(store, row));
      }
      for (const job of found.filter((change) => change.store === 'jobs')) {
        const row = job.row as JobRow;
        for (const id of shownRevisions(row)) {
          const revision = await tx.get('revisions', id);
          if (revision !== undefined) found.push(changeOf('revisions', revision));
        }
      }
      return found;
    });
    this.apply(changes);
  }

  apply(changes: readonly RowChange[]): Touched {
    const touched: Touched = { jobIds: new Set(), books: false, burns: false, outbox: false };
    for (const { store, key, row } of changes) {
      if (!isMirrored(store)) continue;
      const table = this[store] as Map<string, unknown>;
      const before = table.get(key) as { jobId?: string | null } | undefined;
      if (row === null) table.delete(key);
      else table.set(key, row);
      const jobId = (row as { jobId?: string | null } | null)?.jobId ?? before?.jobId;
      if (typeof jobId === 'string') touched.jobIds.add(jobId);
      if (store === 'books') touched.books = true;
      if (store === 'burns') touched.burns = true;
      if (store === 'outbox') {
        touched.outbox = true;
        if (key.startsWith('book:')) touched.books = true;
        if (key.startsWith('burn:')) touched.burns = true;
      }
    }
    return touched;
  }
}

function changeOf<S extends StoreName>(store: S, row: Rows[S]): RowChange {
  return { store, key: keyOf(store, row), row };
}

/** Ids of the revisions of a job that are on screen; histories are long and stay on disk. */
export function shownRevisions({ headId, serverHeadId, asideIds }: JobRow): ReadonlySet<string> {
  return new Set([headId, ...(serverHeadId === null ? [] : [serverHeadId]), ...asideIds]);
}
