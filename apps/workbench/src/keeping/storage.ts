import { keyOf, type Rows, type StoreName } from './rows.js';

/** Reads and writes inside one transaction. Await nothing else in it: the browser would close it. */
export interface Transaction {
  get<S extends StoreName>(store: S, key: string): Promise<Rows[S] | undefined>;
  all<S extends StoreName>(store: S): Promise<Rows[S][]>;
  /** Revisions of one job. */
  revisionsOf(jobId: string): Promise<Rows['revisions'][]>;
  put<S extends StoreName>(store: S, row: Rows[S]): Promise<void>;
  remove(store: StoreName, key: string): Promise<void>;
}

/** A place on this device where rows are kept; all of a transaction is kept, or none of it. */
export interface Storage {
  /** False when rows are gone once the tab is closed; nothing is called kept then. */
  readonly isDurable: boolean;
  read<T>(work: (transaction: Transaction) => Promise<T>): Promise<T>;
  /** Resolves once everything is on disk; rejects with nothing changed. */
  write<T>(work: (transaction: Transaction) => Promise<T>): Promise<T>;
  close(): void;
}

/** A row that was put (or removed, when `row` is null). */
export interface RowChange {
  readonly store: StoreName;
  readonly key: string;
  readonly row: Rows[StoreName] | null;
}

/** A transaction that also notes what it changed. */
export function noting(transaction: Transaction, changes: RowChange[]): Transaction {
  return {
    get: (store, key) => transaction.get(store, key),
    all: (store) => transaction.all(store),
    revisionsOf: (jobId) => transaction.revisionsOf(jobId),
    put: (store, row) => {
      changes.push({ store, key: keyOf(store, row), row });
      return transaction.put(store, row);
    },
    remove: (store, key) => {
      changes.push({ store, key, row: null });
      return transaction.remove(store, key);
    },
  };
}
