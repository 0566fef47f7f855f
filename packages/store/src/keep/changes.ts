import { BOOK_KINDS, type Changes, type KeptBookVersion } from '@gapwright/records';
import type { Kysely } from 'kysely';
import type { Tables } from '../tables.js';
import { readBooks } from './books.js';
import { readBurnsBetween } from './burns.js';
import { readSummaries } from './job-summaries.js';
import { readOffersBetween } from './offers.js';
import { lastSequence } from './sequence.js';

/** How many records one answer looks at; a reader asks again while there is more. */
const CHANGES_AT_ONCE = 500;

/**
 * Everything kept after a sequence number, as it stands now. Records whose standing was changed by new ones (a burn that
 * was corrected, a book version that went out of use) are told again. A job is told once, where its latest record is.
 */
export async function readChanges(
  db: Kysely<Tables>,
  after: number,
  atOnce = CHANGES_AT_ONCE,
): Promise<Omit<Changes, 'storeId'>> {
  const last = await lastSequence(db);
  const upTo = Math.min(after + atOnce, last);
  return {
    sequence: upTo < after ? last : upTo,
    jobs: await readSummaries(db, await jobsBetween(db, after, upTo)),
    offers: await readOffersBetween(db, after, upTo),
    books: await booksBetween(db, after, upTo),
    burns: await readBurnsBetween(db, after, upTo),
    more: upTo < last && upTo >= after,
  };
}

async function jobsBetween(db: Kysely<Tables>, after: number, upTo: number): Promise<string[]> {
  const touched = (table: 'revisions' | 'offers', from: number, to: number | null) => {
    const query = db.selectFrom(table).select('job_id').distinct().where('sequence', '>', from);
    return to === null ? query : query.where('sequence', '<=', to);
  };
  const here = await touched('revisions', after, upTo)
    .union(touched('offers', after, upTo))
    .execute();
  if (here.length === 0) return [];
  const ids = here.map((row) => row.job_id);
  const later = await touched('revisions', upTo, null)
    .where('job_id', 'in', ids)
    .union(touched('offers', upTo, null).where('job_id', 'in', ids))
    .execute();
  const told = new Set(later.map((row) => row.job_id));
  return ids.filter((id) => !told.has(id));
}

async function booksBetween(db: Kysely<Tables>, after: number, upTo: number): Promise<KeptBookVersion[]> {
  const changed: KeptBookVersion[] = [];
  for (const kind of BOOK_KINDS) {
    const touched = await db
      .selectFrom('book_versions')
      .select('sequence')
      .where('kind', '=', kind)
      .where('sequence', '>', after)
      .where('sequence', '<=', upTo)
      .executeTakeFirst();
    if (touched === undefined) continue;
    const before = await db
      .selectFrom('book_versions')
      .select((eb) => eb.fn.max('sequence').as('sequence'))
      .where('kind', '=', kind)
      .where('took_over', '=', 1)
      .where('sequence', '<=', after)
      .executeTakeFirst();
    const versions = await readBooks(db, kind);
    changed.push(
      ...versions.filter((v) => (v.sequence > after && v.sequence <= upTo) || v.sequence === before?.sequence),
    );
  }
  return changed.sort((a, b) => a.sequence - b.sequence);
}
