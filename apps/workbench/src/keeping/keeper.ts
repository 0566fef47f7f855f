import type { BookKind, KeptBookVersion, KeptBurnRecord } from '@gapwright/records';
import { bookInUse, headWith, heldBurns, heldJob, heldVersions, type PendingEdit } from './held.js';
import type { HeldBook, HeldJob, SavedState } from './keeping.js';
import { Mirror, shownRevisions, type Touched } from './mirror.js';
import { NoticeBoard } from './notices.js';
import { type JobRow, type JobState, stateOf } from './rows.js';
import type { StartingBook } from './starting-books.js';
import { editStep, type Making } from './steps.js';
import { noting, type RowChange, type Storage, type Transaction } from './storage.js';
import type { Tabs } from './tabs.js';

export type ServerState = 'connected' | 'away' | 'starting';

/** Everything screens read, each part the same object until it changes. */
export interface Snapshot {
  readonly server: ServerState;
  readonly jobs: readonly HeldJob[];
  readonly books: Readonly<Record<BookKind, HeldBook>>;
  readonly versions: Readonly<Record<BookKind, readonly KeptBookVersion[]>>;
  readonly burns: readonly KeptBurnRecord[];
}

export interface KeeperTools {
  readonly storage: Storage;
  readonly tabs: Tabs;
  readonly startingBooks: readonly StartingBook[];
  readonly deviceName: () => string;
  readonly now: () => Date;
  readonly newId: () => string;
}

/** An edit that could not be written to the disk is tried again after this long, and with the next edit. */
const WRITE_AGAIN_MS = 3_000;
const KINDS: readonly BookKind[] = ['shop-book', 'technology-book', 'post'];

const quotaWords = (error: unknown): string => {
  const isFull = error instanceof DOMException && error.name === 'QuotaExceededError';
  const why = isFull ? 'this device has no room left' : `the browser could not write (${String(error)})`;
  return `Your last edits are not kept yet: ${why}. Make room on the disk and leave this tab open; they are written as soon as it works.`;
};

/** Rows on disk, their mirror in memory, and the edits on their way between the two. */
export class Keeper {
  readonly notices = new NoticeBoard();
  readonly storage: Storage;
  readonly #mirror = new Mirror();
  readonly #held = new Map<string, HeldJob>();
  readonly #pending = new Map<string, PendingEdit[]>();
  readonly #listeners = new Set<() => void>();
  readonly #parsed = new Map<string, unknown>();
  #line: Promise<unknown> = Promise.resolve();
  #writeNow: (() => void) | null = null;
  #snapshot: Snapshot;
  /** Called when something new waits for the server. */
  onWaiting: () => void = () => undefined;
  /** Called when versions of books changed. */
  onBooks: () => void = () => undefined;

  private constructor(readonly tools: KeeperTools) {
    this.storage = tools.storage;
    this.#snapshot = {
      server: 'starting',
      jobs: [],
      burns: [],
      books: this.#books(),
      versions: this.#versions(),
    };
    this.notices.onChange = () => this.#tell();
  }

  static async open(tools: KeeperTools): Promise<Keeper> {
    const keeper = new Keeper(tools);
    tools.tabs.listen((message) => {
      if (message.is === 'rows') void keeper.#reread(message.keys);
      if (message.is === 'reload') void keeper.reload();
    });
    await keeper.reload();
    return keeper;
  }

  get mirror(): Mirror {
    return this.#mirror;
  }

  snapshot = (): Snapshot => this.#snapshot;
  job = (jobId: string): HeldJob | undefined => this.#held.get(jobId);

  subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  making(): Making {
    const { newId, now, deviceName } = this.tools;
    return {
      id: newId(),
      madeAt: now().toISOString(),
      madeBy: deviceName(),
      bookSha256: this.#snapshot.books['shop-book'].sha256,
    };
  }

  setServer(server: ServerState): void {
    if (server === this.#snapshot.server) return;
    this.#snapshot = { ...this.#snapshot, server };
    this.#tell();
  }

  /** Reads everything from the disk again. */
  async reload(): Promise<void> {
    await this.#mirror.load(this.storage);
    this.#held.clear();
    for (const jobId of this.#mirror.jobs.keys()) this.#hold(jobId);
    this.#snapshot = {
      ...this.#snapshot,
      jobs: this.#jobs(),
      burns: heldBurns(this.#mirror),
      books: this.#books(),
      versions: this.#versions(),
    };
    this.#tell();
  }

  read<T>(work: (tx: Transaction) => Promise<T>): Promise<T> {
    return this.storage.read(work);
  }

  /** Writes to the disk, then shows and tells the other tabs what changed. */
  commit = async <T>(work: (tx: Transaction) => Promise<T>, beforeShown?: () => void): Promise<T> => {
    let changes: RowChange[] = [];
    const value = await this.storage.write((tx) => {
      changes = [];
      return work(noting(tx, changes));
    });
    beforeShown?.();
    this.#show(this.#mirror.apply(changes));
    if (changes.length > 0) {
      this.tools.tabs.tell({ is: 'rows', keys: changes.map(({ store, key }) => ({ store, key })) });
    }
    if (changes.some((change) => change.store === 'outbox' && change.row !== null)) this.onWaiting();
    return value;
  };

  /**
   * Writes in the order asked for, and keeps trying while the disk refuses; nothing behind it overtakes. Rejects only
   * for errors that are not the disk's.
   */
  inLine<T>(work: (tx: Transaction) => Promise<T>, beforeShown?: () => void): Promise<T> {
    const turn = this.#line.then(async () => {
      for (;;) {
        try {
          const value = await this.commit(work, beforeShown);
          this.notices.remove('not-kept');
          return value;
        } catch (error) {
          if (!(error instanceof DOMException)) throw error;
          this.notices.put({ id: 'not-kept', says: quotaWords(error), choices: [] });
          await this.#beforeNextTry();
        }
      }
    });
    this.#line = turn.catch(() => undefined);
    this.#writeNow?.();
    return turn;
  }

  #beforeNextTry(): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(end, WRITE_AGAIN_MS);
      const self = this;
      function end(): void {
        clearTimeout(timer);
        self.#writeNow = null;
        resolve();
      }
      this.#writeNow = end;
    });
  }

  /** Shows an edit at once and writes it. `change` must be pure; it throws here or never. */
  edit(jobId: string, says: string, change: (state: JobState) => JobState): void {
    const row = this.#mirror.jobs.get(jobId);
    const head = row === undefined ? undefined : this.#mirror.revisions.get(row.headId);
    if (head === undefined) throw new Error(`There is no job ${jobId} on this device.`);
    const edit: PendingEdit = { making: this.making(), says, change };
    const waiting = this.#pending.get(jobId) ?? [];
    const before = stateOf(headWith(head.revision, waiting));
    // Tried on what is shown first, so that a faulty change is the caller's to see and is never in line.
    if (change(before) === before) return;
    this.#pending.set(jobId, [...waiting, edit]);
    this.#show(touchedJob(jobId));
    const settle = (): void => {
      const left = (this.#pending.get(jobId) ?? []).filter((other) => other !== edit);
      if (left.length === 0) this.#pending.delete(jobId);
      else this.#pending.set(jobId, left);
    };
    this.inLine((tx) => editStep(tx, jobId, edit.making, says, change), settle).catch((error: unknown) => {
      settle();
      this.#show(touchedJob(jobId));
      const why = error instanceof Error ? error.message : String(error);
      const id = `edit-${edit.making.id}`;
      this.notices.put({ id, says: `"${says}" could not be kept: ${why}. Make the edit again.`, choices: [] });
    });
  }

  /** The text of a book on this device; undefined when it is not here. */
  bookText(sha256: string): string | undefined {
    const starting = this.tools.startingBooks.find((book) => book.sha256 === sha256);
    return (
      starting?.text ??
      [...this.#mirror.books.values()].find((row) => row.sha256 === sha256 && row.text !== null)?.text ??
      undefined
    );
  }

  /** The JSON of a book; the same object each time. */
  parsedBook(sha256: string, text: string): unknown {
    if (!this.#parsed.has(sha256)) this.#parsed.set(sha256, JSON.parse(text));
    return this.#parsed.get(sha256);
  }

  burnSaved(id: string): SavedState {
    if (!this.#mirror.outbox.has(`burn:${id}`)) return 'saved';
    return this.storage.isDurable ? 'kept on this device' : 'saving';
  }

  async #reread(keys: readonly { store: RowChange['store']; key: string }[]): Promise<void> {
    const changes = await this.storage.read(async (tx) => {
      const found: RowChange[] = [];
      for (const { store, key } of keys) {
        if (store === 'files') continue;
        found.push({ store, key, row: (await tx.get(store, key)) ?? null });
      }
      // The other tab may have gone on meanwhile: a job then names a head that only its next message would bring.
      const known = new Set([...this.#mirror.revisions.keys(), ...found.map((change) => change.key)]);
      for (const { store, row } of [...found]) {
        if (store !== 'jobs' || row === null) continue;
        for (const id of shownRevisions(row as JobRow)) {
          if (known.has(id)) continue;
          found.push({ store: 'revisions', key: id, row: (await tx.get('revisions', id)) ?? null });
        }
      }
      return found;
    });
    this.#show(this.#mirror.apply(changes));
    if (changes.some((change) => change.store === 'outbox' && change.row !== null)) this.onWaiting();
  }

  #show(touched: Touched): void {
    for (const jobId of touched.jobIds) this.#hold(jobId);
    let next = this.#snapshot;
    if (touched.jobIds.size > 0) next = { ...next, jobs: this.#jobs() };
    if (touched.burns) next = { ...next, burns: heldBurns(this.#mirror) };
    if (touched.books) {
      next = { ...next, books: this.#books(), versions: this.#versions() };
      this.onBooks();
    }
    if (next === this.#snapshot) return;
    this.#snapshot = next;
    this.#tell();
  }

  #hold(jobId: string): void {
    const row = this.#mirror.jobs.get(jobId);
    const pending = this.#pending.get(jobId) ?? [];
    const held = row && heldJob(row, this.#mirror, pending, this.storage.isDurable);
    if (held === undefined) this.#held.delete(jobId);
    else this.#held.set(jobId, held);
  }

  #jobs(): HeldJob[] {
    return [...this.#held.values()].sort((a, b) => (a.head.madeAt < b.head.madeAt ? 1 : -1));
  }

  #bookOf(kind: BookKind): HeldBook {
    const row = bookInUse(this.#mirror, kind);
    const starting = this.tools.startingBooks.find((book) => book.kind === kind);
    if (row?.text != null) {
      const isWaiting = this.#mirror.outbox.has(`book:${row.key}`);
      const version = heldVersions(this.#mirror, kind).find((known) => known.sha256 === row.sha256) ?? null;
      const here = this.storage.isDurable ? 'kept on this device' : 'saving';
      const json = this.parsedBook(row.sha256, row.text);
      return { kind, sha256: row.sha256, json, version, saved: isWaiting ? here : 'saved' };
    }
    if (starting === undefined) throw new Error(`There is no ${kind} on this device.`);
    const json = this.parsedBook(starting.sha256, starting.text);
    // It came with the page and comes with it again.
    return { kind, sha256: starting.sha256, json, version: null, saved: 'kept on this device' };
  }

  #books(): Snapshot['books'] {
    return byKind((kind) => this.#bookOf(kind));
  }
  #versions(): Snapshot['versions'] {
    return byKind((kind) => heldVersions(this.#mirror, kind));
  }

  #tell(): void {
    for (const listener of this.#listeners) listener();
  }
}

function byKind<T>(make: (kind: BookKind) => T): Record<BookKind, T> {
  return Object.fromEntries(KINDS.map((kind) => [kind, make(kind)])) as Record<BookKind, T>;
}

function touchedJob(jobId: string): Touched {
  return { jobIds: new Set([jobId]), books: false, burns: false, outbox: false };
}
