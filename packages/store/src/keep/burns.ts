import { type BurnRecord, burnRecordSchema, type KeptBurnRecord } from '@gapwright/records';
import type { Kysely, Selectable } from 'kysely';
import { Refusal } from '../refusal.js';
import type { BurnTable, Tables } from '../tables.js';
import { checkText, exactJson, isSameJson } from './exact-text.js';
import { nextSequence } from './sequence.js';

/**
 * Keeps an entry of the burn log. An entry and its corrections form a chain of which the latest counts, also when two
 * devices correct the same entry: no burn is ever counted twice.
 */
export async function keepBurn(db: Kysely<Tables>, record: BurnRecord): Promise<KeptBurnRecord> {
  const before = await readBurn(db, record.id);
  if (before !== null) {
    if (!isSameJson(burnRecordSchema.parse(withoutPlace(before)), record)) {
      throw new Refusal('STORE-ID-TAKEN', `Burn ${record.id} is kept with other content`, 'Give it a new id');
    }
    return before;
  }
  const { id, madeAt, madeBy, replaces } = record;
  checkText({ madeBy });
  const content = record.content === null ? null : exactJson(record.content, 'content');
  if (content === null && replaces === null) {
    throw new Refusal(
      'STORE-BURN-UNKNOWN',
      `Entry ${id} of the burn log strikes no entry`,
      'Name the entry to strike in replaces',
    );
  }
  const sequence = await nextSequence(db);
  let root_id = id;
  if (replaces !== null) {
    const replaced = await db.selectFrom('burns').select('root_id').where('id', '=', replaces).executeTakeFirst();
    if (replaced === undefined) {
      throw new Refusal(
        'STORE-BURN-UNKNOWN',
        `Entry ${id} of the burn log replaces ${replaces}, which has not been sent yet`,
        'Send that one first',
      );
    }
    root_id = replaced.root_id;
  }
  await db
    .insertInto('burns')
    .values({ id, made_at: madeAt, made_by: madeBy, replaces_id: replaces, root_id, content, sequence })
    .execute();
  return (await readBurn(db, id))!;
}

async function readBurn(db: Kysely<Tables>, id: string): Promise<KeptBurnRecord | null> {
  const row = await selectBurns(db).where('b.id', '=', id).executeTakeFirst();
  return row === undefined ? null : keptBurn(row);
}

/** Entries taken after `after` up to `upTo`, and those they put out of use, oldest first. */
export async function readBurnsBetween(db: Kysely<Tables>, after: number, upTo: number): Promise<KeptBurnRecord[]> {
  const rows = await selectBurns(db)
    .where('b.root_id', 'in', (eb) =>
      eb.selectFrom('burns as n').select('n.root_id').where('n.sequence', '>', after).where('n.sequence', '<=', upTo),
    )
    .orderBy('b.sequence')
    .execute();
  return rows.map(keptBurn);
}

function selectBurns(db: Kysely<Tables>) {
  return db
    .selectFrom('burns as b')
    .selectAll('b')
    .select((eb) =>
      eb
        .selectFrom('burns as l')
        .select((l) => l.fn.max<number>('l.sequence').as('latest'))
        .whereRef('l.root_id', '=', 'b.root_id')
        .as('latest'),
    );
}

function keptBurn(row: Selectable<BurnTable> & { latest: number | null }): KeptBurnRecord {
  return {
    ...burnRecordSchema.parse({
      id: row.id,
      madeAt: row.made_at,
      madeBy: row.made_by,
      replaces: row.replaces_id,
      content: row.content === null ? null : JSON.parse(row.content),
    }),
    sequence: row.sequence,
    isInUse: row.sequence === row.latest,
  };
}

function withoutPlace({ sequence: _, isInUse: __, ...record }: KeptBurnRecord): BurnRecord {
  return record;
}
