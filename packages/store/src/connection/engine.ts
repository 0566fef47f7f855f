import type { Kysely } from 'kysely';
import type { Tables } from '../tables.js';

/**
 * What differs between database programs, and nothing else: migrations and queries are written once, in the SQL that
 * SQLite and PostgreSQL share. Another database program is another file beside `sqlite.ts` that makes one of these.
 *
 * Writers must be serialised: a write transaction begins by counting up `store_info.last_sequence`, which locks that row
 * (SQLite: the whole file), so that sequence numbers appear in the order they were given and heads never fork.
 */
export interface Engine {
  readonly db: Kysely<Tables>;
  /** Column type for bytes. */
  readonly bytesType: 'blob' | 'bytea';
  /** Makes the database itself refuse to change or remove rows of a table, whoever asks. */
  forbidChanges(transaction: Kysely<Tables>, table: string): Promise<void>;
  /** What the database finds wrong with itself; empty when whole. */
  faults(): Promise<readonly string[]>;
  /** The error as a sentence when it comes from the database or the disk, null when it is our own fault. */
  explain(error: unknown): string | null;
  close(): Promise<void>;
}
