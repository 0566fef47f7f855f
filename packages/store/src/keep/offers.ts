import { type BookKind, type FileRef, type OfferRecord, offerRecordSchema } from '@gapwright/records';
import type { Kysely } from 'kysely';
import { Refusal } from '../refusal.js';
import type { Tables } from '../tables.js';
import { checkText, isSameJson } from './exact-text.js';
import { checkFileRef, keepFile } from './files.js';
import { readRevision } from './read-revisions.js';
import { nextSequence } from './sequence.js';

/** Keeps an offer together with the files it brings (sheet, papers, programs): all of it or nothing. */
export async function keepOffer(
  db: Kysely<Tables>,
  offer: OfferRecord,
  files: readonly Uint8Array[],
): Promise<OfferRecord> {
  const before = await readOffer(db, offer.id);
  if (before !== null) {
    if (!isSameJson(before, offer)) {
      throw new Refusal('STORE-ID-TAKEN', `Offer ${offer.id} is kept with other content`, 'Give it a new id');
    }
    return before;
  }
  checkText({ madeBy: offer.madeBy, currency: offer.currency });
  const sequence = await nextSequence(db);
  const revision = await readRevision(db, offer.revisionId);
  if (revision === null || revision.jobId !== offer.jobId) {
    throw new Refusal(
      'STORE-REVISION-UNKNOWN',
      `Offer ${offer.id} is for revision ${offer.revisionId}, which job ${offer.jobId} does not have`,
      'Send the revision first',
    );
  }
  await checkBook(db, 'shop-book', offer.bookSha256);
  await checkBook(db, 'post', offer.postSha256);
  for (const bytes of files) await keepFile(db, bytes);
  const rows = fileRows(offer);
  for (const { role, ref } of rows) {
    checkText({ [`${role}.fileName`]: ref.fileName });
    await checkFileRef(db, role, ref);
  }
  await db
    .insertInto('offers')
    .values({
      id: offer.id,
      job_id: offer.jobId,
      revision_id: offer.revisionId,
      made_at: offer.madeAt,
      made_by: offer.madeBy,
      quantity: offer.quantity,
      unit_price: offer.unitPrice,
      currency: offer.currency,
      loss_risk: offer.lossRisk,
      promised_day: offer.promisedDay,
      book_sha256: offer.bookSha256,
      post_sha256: offer.postSha256,
      sequence,
    })
    .execute();
  await db
    .insertInto('offer_files')
    .values(
      rows.map(({ role, ref }, position) => ({
        offer_id: offer.id,
        role,
        position,
        sha256: ref.sha256,
        file_name: ref.fileName,
      })),
    )
    .execute();
  return (await readOffer(db, offer.id))!;
}

export async function readOffer(db: Kysely<Tables>, id: string): Promise<OfferRecord | null> {
  const [offer] = await readOffers(db, await db.selectFrom('offers').select('id').where('id', '=', id).execute());
  return offer ?? null;
}

/** Offers of a job, newest first. */
export async function readOffersOfJob(db: Kysely<Tables>, jobId: string): Promise<OfferRecord[]> {
  const ids = await db.selectFrom('offers').select('id').where('job_id', '=', jobId).execute();
  return (await readOffers(db, ids)).reverse();
}

/** Offers taken after `after` up to `upTo`, oldest first. */
export async function readOffersBetween(db: Kysely<Tables>, after: number, upTo: number): Promise<OfferRecord[]> {
  const ids = await db
    .selectFrom('offers')
    .select('id')
    .where('sequence', '>', after)
    .where('sequence', '<=', upTo)
    .execute();
  return readOffers(db, ids);
}

async function readOffers(db: Kysely<Tables>, found: readonly { id: string }[]): Promise<OfferRecord[]> {
  if (found.length === 0) return [];
  const ids = found.map((row) => row.id);
  const rows = await db.selectFrom('offers').selectAll().where('id', 'in', ids).orderBy('sequence').execute();
  const files = await db
    .selectFrom('offer_files as o')
    .innerJoin('files as f', 'f.sha256', 'o.sha256')
    .select(['o.offer_id', 'o.role', 'o.sha256', 'o.file_name', 'f.byte_length'])
    .where('o.offer_id', 'in', ids)
    .orderBy('o.position')
    .execute();
  return rows.map((row) => {
    const refs = (role: FileRole): FileRef[] =>
      files
        .filter((file) => file.offer_id === row.id && file.role === role)
        .map((file) => ({ sha256: file.sha256, fileName: file.file_name, byteLength: file.byte_length }));
    return offerRecordSchema.parse({
      id: row.id,
      jobId: row.job_id,
      revisionId: row.revision_id,
      madeAt: row.made_at,
      madeBy: row.made_by,
      quantity: row.quantity,
      unitPrice: row.unit_price,
      currency: row.currency,
      lossRisk: row.loss_risk,
      promisedDay: row.promised_day,
      bookSha256: row.book_sha256,
      postSha256: row.post_sha256,
      drawing: refs('drawing')[0],
      sheet: refs('sheet')[0],
      papers: refs('paper'),
    });
  });
}

function fileRows(offer: OfferRecord): { readonly role: FileRole; readonly ref: FileRef }[] {
  return [
    { role: 'drawing', ref: offer.drawing },
    { role: 'sheet', ref: offer.sheet },
    ...offer.papers.map((ref) => ({ role: 'paper' as const, ref })),
  ];
}

type FileRole = 'drawing' | 'sheet' | 'paper';

async function checkBook(db: Kysely<Tables>, kind: BookKind, sha256: string): Promise<void> {
  const known = await db
    .selectFrom('book_versions')
    .select('sequence')
    .where('kind', '=', kind)
    .where('sha256', '=', sha256)
    .executeTakeFirst();
  if (known !== undefined) return;
  throw new Refusal('STORE-BOOK-UNKNOWN', `There is no version ${sha256} of the ${kind}`, 'Send the version first');
}
