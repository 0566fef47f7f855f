import { type KeptRevision, type Revision, revisionSchema, type SavedRevision } from '@gapwright/records';
import type { Kysely } from 'kysely';
import { Refusal } from '../refusal.js';
import type { Tables } from '../tables.js';
import { checkText, exactJson, isSameJson } from './exact-text.js';
import { checkFileRef } from './files.js';
import { readSummary } from './job-summaries.js';
import { readRevision } from './read-revisions.js';
import { nextSequence } from './sequence.js';

/**
 * Keeps a revision. One made on the head becomes the head; one made on anything else is kept aside until a revision
 * with both as parents settles it. Where a revision stands follows from what was kept alone: it is past once another
 * was made on it, else head or aside as it came in. Keeping the same revision again does nothing.
 */
export async function keepRevision(db: Kysely<Tables>, revision: Revision): Promise<SavedRevision> {
  const before = await readRevision(db, revision.id);
  if (before !== null) {
    if (!isSameJson(revisionSchema.parse(withoutStanding(before)), revision)) {
      throw new Refusal('STORE-ID-TAKEN', `Revision ${revision.id} is kept with other content`, 'Give it a new id');
    }
    return { saved: before, summary: await readSummary(db, before.jobId) };
  }
  const { id, jobId, parents, madeAt, madeBy, says, stage, drawing } = revision;
  checkText({ madeBy, says, 'drawing.fileName': drawing?.fileName ?? null });
  const content = exactJson(revision.content, 'content');
  const sequence = await nextSequence(db);
  await checkParents(db, revision);
  if (drawing !== null) await checkFileRef(db, 'drawing', drawing);
  const head = await db
    .selectFrom('revisions')
    .select('id')
    .where('job_id', '=', jobId)
    .where('took_head', '=', 1)
    .orderBy('sequence', 'desc')
    .limit(1)
    .executeTakeFirst();
  await db
    .insertInto('revisions')
    .values({
      id,
      job_id: jobId,
      parent_id: parents[0] ?? null,
      second_parent_id: parents[1] ?? null,
      made_at: madeAt,
      made_by: madeBy,
      says,
      stage,
      content,
      drawing_sha256: drawing?.sha256 ?? null,
      drawing_name: drawing?.fileName ?? null,
      book_sha256: revision.bookSha256,
      took_head: head === undefined || parents.includes(head.id) ? 1 : 0,
      sequence,
    })
    .execute();
  const saved = await readRevision(db, id);
  return { saved: saved!, summary: await readSummary(db, jobId) };
}

function withoutStanding({ sequence: _, standing: __, ...revision }: KeptRevision): Revision {
  return revision;
}

async function checkParents(db: Kysely<Tables>, { id, jobId, parents }: Revision): Promise<void> {
  for (const parent of parents) {
    const row = await db.selectFrom('revisions').select('job_id').where('id', '=', parent).executeTakeFirst();
    if (row === undefined) {
      throw new Refusal(
        'STORE-PARENT-UNKNOWN',
        `Revision ${id} was made on ${parent}, which has not been sent yet`,
        'Send that one first',
      );
    }
    if (row.job_id !== jobId || parents.filter((p) => p === parent).length > 1) {
      throw new Refusal(
        'STORE-PARENT-ELSEWHERE',
        `Revision ${id} names ${parent} twice or from another job`,
        'Name each parent once, from the same job',
      );
    }
  }
}
