import { type KeptRevision, revisionSchema } from '@gapwright/records';
import type { ExpressionBuilder, Kysely, Selectable } from 'kysely';
import type { RevisionTable, Tables } from '../tables.js';

export async function readRevision(db: Kysely<Tables>, id: string): Promise<KeptRevision | null> {
  const row = await selectRevisions(db).where('r.id', '=', id).executeTakeFirst();
  return row === undefined ? null : keptRevision(row);
}

/** All revisions of a job, newest first. */
export async function readRevisions(db: Kysely<Tables>, jobId: string): Promise<KeptRevision[]> {
  const rows = await selectRevisions(db).where('r.job_id', '=', jobId).orderBy('r.sequence', 'desc').execute();
  return rows.map(keptRevision);
}

/** Heads and asides of jobs: the revisions nothing was made on. */
export async function readTips(db: Kysely<Tables>, jobIds: readonly string[]): Promise<KeptRevision[]> {
  const rows = await selectRevisions(db)
    .where('r.job_id', 'in', jobIds)
    .where((eb) => eb.not(hasChild(eb)))
    .orderBy('r.sequence')
    .execute();
  return rows.map(keptRevision);
}

type Row = Selectable<RevisionTable> & { has_child: unknown; drawing_length: number | null };

function selectRevisions(db: Kysely<Tables>) {
  return db
    .selectFrom('revisions as r')
    .leftJoin('files as f', 'f.sha256', 'r.drawing_sha256')
    .selectAll('r')
    .select('f.byte_length as drawing_length')
    .select((eb) => hasChild(eb).as('has_child'));
}

/** Whether another revision was made on this one. Two look-ups, so that each uses its index. */
function hasChild(eb: ExpressionBuilder<Tables & { r: RevisionTable }, 'r'>) {
  return eb.or([
    eb.exists(eb.selectFrom('revisions as c').select('c.id').whereRef('c.parent_id', '=', 'r.id')),
    eb.exists(eb.selectFrom('revisions as d').select('d.id').whereRef('d.second_parent_id', '=', 'r.id')),
  ]);
}

function keptRevision(row: Row): KeptRevision {
  const { drawing_sha256: sha256, drawing_name: fileName, drawing_length: byteLength } = row;
  return {
    ...revisionSchema.parse({
      id: row.id,
      jobId: row.job_id,
      parents: [row.parent_id, row.second_parent_id].filter((p) => p !== null),
      madeAt: row.made_at,
      madeBy: row.made_by,
      says: row.says,
      stage: row.stage,
      content: JSON.parse(row.content),
      drawing: sha256 === null ? null : { sha256, fileName, byteLength },
      bookSha256: row.book_sha256,
    }),
    sequence: row.sequence,
    // SQLite says 0 or 1, PostgreSQL false or true.
    standing: row.has_child ? 'past' : row.took_head === 1 ? 'head' : 'aside',
  };
}
