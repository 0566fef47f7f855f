import { type DBSchema, type IDBPDatabase, type IDBPTransaction, openDB } from 'idb';
import { KEY_OF, type Rows, STORE_NAMES, type StoreName } from './rows.js';
import type { Storage, Transaction } from './storage.js';

type Schema = DBSchema & {
  [S in StoreName]: { key: string; value: Rows[S]; indexes: S extends 'revisions' ? { jobId: string } : never };
};

const DATABASE = 'gapwright';
const VERSION = 1;

function transactionOn(running: IDBPTransaction<Schema, StoreName[], 'readonly' | 'readwrite'>): Transaction {
  // The mode is checked by the database itself: only `write` hands out a transaction that may put.
  const writer = running as IDBPTransaction<Schema, StoreName[], 'readwrite'>;
  return {
    get: (store, key) => running.objectStore(store).get(key) as Promise<Rows[typeof store] | undefined>,
    all: (store) => running.objectStore(store).getAll() as Promise<Rows[typeof store][]>,
    revisionsOf: (jobId) => running.objectStore('revisions').index('jobId').getAll(jobId),
    put: async (store, row) => {
      await writer.objectStore(store).put(row);
    },
    remove: (store, key) => writer.objectStore(store).delete(key),
  };
}

/** IndexedDB. Writes are `strict`: answered only after the browser has flushed them to disk. */
export class IdbStorage implements Storage {
  readonly isDurable = true;

  private constructor(private readonly database: IDBPDatabase<Schema>) {}

  /** Rejects when the browser allows no storage (private windows, blocked site data). */
  static async open(giveWay: () => void, name = DATABASE): Promise<IdbStorage> {
    const database = await openDB<Schema>(name, VERSION, {
      upgrade(opened) {
        for (const store of STORE_NAMES) {
          const made = opened.createObjectStore(store, { keyPath: KEY_OF[store] });
          if (store === 'revisions') {
            (made as unknown as IDBObjectStore).createIndex('jobId', 'jobId');
          }
        }
      },
      // A newer page in another tab wants to change the shape of the database: let it, and say so here.
      blocking(_current, _wanted, event) {
        (event.target as IDBDatabase).close();
        giveWay();
      },
    });
    return new IdbStorage(database);
  }

  read<T>(work: (transaction: Transaction) => Promise<T>): Promise<T> {
    return work(transactionOn(this.database.transaction(STORE_NAMES, 'readonly')));
  }

  async write<T>(work: (transaction: Transaction) => Promise<T>): Promise<T> {
    const running = this.database.transaction(STORE_NAMES, 'readwrite', { durability: 'strict' });
    // Heard at once, so that a failure is never an unhandled rejection while the work still runs.
    const end = running.done.then(
      () => null,
      (error: unknown) => ({ error }),
    );
    try {
      const value = await work(transactionOn(running));
      const failed = await end;
      if (failed) throw failed.error;
      return value;
    } catch (error) {
      try {
        running.abort();
      } catch {
        // Already ended: then nothing of it is left to take back.
      }
      await end;
      throw error;
    }
  }

  close(): void {
    this.database.close();
  }
}
