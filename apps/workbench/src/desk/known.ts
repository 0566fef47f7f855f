import type { DraftJob, SheetAnswer } from '@gapwright/job';
import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import { useSyncExternalStore } from 'react';
import { inputsKey, type KnownAnswer, knownAnswer, mergedAnswer } from './known-answer.js';

interface Schema extends DBSchema {
  answers: { key: string; value: KnownAnswer };
}

/** Answers come in parts, and quickly while somebody types; only the one that stays is written. */
const WRITE_AFTER_MS = 800;

/**
 * The last known answers of this device. A cache beside what is kept: losing it loses nothing, opening a job fills it
 * again; so a browser that forbids it is no problem.
 */
class KnownAnswers {
  private readonly listeners = new Set<() => void>();
  private readonly timers = new Map<string, ReturnType<typeof setTimeout>>();
  private answers: ReadonlyMap<string, KnownAnswer> = new Map();
  private database: Promise<IDBPDatabase<Schema> | null> | null = null;

  readonly get = (): ReadonlyMap<string, KnownAnswer> => this.answers;

  readonly subscribe = (listener: () => void): (() => void) => {
    if (this.database === null) void this.load();
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  };

  private open(): Promise<IDBPDatabase<Schema> | null> {
    this.database ??= openDB<Schema>('gapwright-known', 1, {
      upgrade: (db) => {
        db.createObjectStore('answers', { keyPath: 'jobId' });
      },
    }).catch(() => null);
    return this.database;
  }

  private async load(): Promise<void> {
    const db = await this.open();
    const rows = (await db?.getAll('answers').catch(() => [])) ?? [];
    // What was remembered while reading is newer.
    this.show(new Map([...rows.map((row) => [row.jobId, row] as const), ...this.answers]));
  }

  remember(partial: KnownAnswer): void {
    const answer = mergedAnswer(this.answers.get(partial.jobId), partial);
    if (JSON.stringify(this.answers.get(answer.jobId)) === JSON.stringify(answer)) return;
    this.show(new Map(this.answers).set(answer.jobId, answer));
    clearTimeout(this.timers.get(answer.jobId));
    this.timers.set(
      answer.jobId,
      setTimeout(() => void this.write(answer), WRITE_AFTER_MS),
    );
  }

  private async write(answer: KnownAnswer): Promise<void> {
    this.timers.delete(answer.jobId);
    const db = await this.open();
    await db?.put('answers', answer).catch(() => undefined);
  }

  private show(answers: ReadonlyMap<string, KnownAnswer>): void {
    this.answers = answers;
    for (const listener of this.listeners) listener();
  }
}

const known = new KnownAnswers();

/**
 * Called by the job sheet whenever it has an answer that belongs to the job as it stands (not to a what-if).
 * `of` says which inputs it belongs to, so that the desk can tell a price from before a change.
 */
export function rememberAnswer(
  jobId: string,
  answer: SheetAnswer,
  of?: { readonly draft: DraftJob; readonly drawingSha256: string | null },
): void {
  known.remember(knownAnswer(jobId, answer, of === undefined ? null : inputsKey(of.draft, of.drawingSha256)));
}

/** Last known answers by job id. */
export function useKnownAnswers(): ReadonlyMap<string, KnownAnswer> {
  return useSyncExternalStore(known.subscribe, known.get);
}
