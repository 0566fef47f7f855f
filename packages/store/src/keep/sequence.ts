import type { Kysely } from 'kysely';
import type { Tables } from '../tables.js';

/**
 * Counts up and holds every other writer until the transaction ends. Called before anything is read that the write
 * depends on.
 */
export async function nextSequence(db: Kysely<Tables>): Promise<number> {
  const { last_sequence } = await db
    .updateTable('store_info')
    .set((eb) => ({ last_sequence: eb('last_sequence', '+', 1) }))
    .where('id', '=', 1)
    .returning('last_sequence')
    .executeTakeFirstOrThrow();
  return last_sequence;
}

export async function lastSequence(db: Kysely<Tables>): Promise<number> {
  const { last_sequence } = await db
    .selectFrom('store_info')
    .select('last_sequence')
    .where('id', '=', 1)
    .executeTakeFirstOrThrow();
  return last_sequence;
}
