import type { Kysely } from 'kysely';
import type { Engine } from '../connection/engine.js';
import type { Tables } from '../tables.js';

/** One step from a version of the tables to the next. Once released it is never edited. */
export interface Migration {
  readonly version: number;
  readonly says: string;
  up(transaction: Kysely<Tables>, engine: Engine): Promise<void>;
}
