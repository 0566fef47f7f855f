import { keyOf, type Rows, STORE_NAMES, type StoreName } from './rows.js';
import type { Storage, Transaction } from './storage.js';

type Tables = Map<StoreName, Map<string, unknown>>;

function transactionOn(tables: Tables): Transaction {
  const table = <S extends StoreName>(store: S): Map<string, Rows[S]> => tables.get(store) as Map<string, Rows[S]>;
  return {
    get: async (store, key) => table(store).get(key),
    all: async (store) => [...table(store).values()],
    revisionsOf: async (jobId) => [...table('revisions').values()].filter((row) => row.jobId === jobId),
    put: async (store, row) => {
      table(store).set(keyOf(store, row), row);
    },
    remove: async (store, key) => {
      table(store).delete(key);
    },
  };
}

/**
 * Rows in memory, for a browser that allows no storage and for tests. Writers wait for one another, and a writer that
 * fails leaves nothing behind.
 */
export class MemoryStorage implements Storage {
  readonly isDurable: boolean;
  #tables: Tables = new Map(STORE_NAMES.map((store) => [store, new Map()]));
  #last: Promise<unknown> = Promise.resolve();

  constructor(isDurable = false) {
    this.isDurable = isDurable;
  }

  read<T>(work: (transaction: Transaction) => Promise<T>): Promise<T> {
    return this.#inTurn(() => work(transactionOn(this.#tables)));
  }

  write<T>(work: (transaction: Transaction) => Promise<T>): Promise<T> {
    return this.#inTurn(async () => {
      const copy: Tables = new Map([...this.#tables].map(([store, rows]) => [store, new Map(rows)]));
      const value = await work(transactionOn(copy));
      this.#tables = copy;
      return value;
    });
  }

  close(): void {}

  #inTurn<T>(work: () => Promise<T>): Promise<T> {
    const turn = this.#last.then(work, work);
    this.#last = turn.catch(() => undefined);
    return turn;
  }
}
