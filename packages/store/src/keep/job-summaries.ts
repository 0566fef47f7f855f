import { BugError } from '@gapwright/base';
import type { JobSummary } from '@gapwright/records';
import type { Kysely } from 'kysely';
import type { Tables } from '../tables.js';
import { readTips } from './read-revisions.js';

/** Summaries of jobs that exist, in the order asked for. */
export async function readSummaries(db: Kysely<Tables>, jobIds: readonly string[]): Promise<JobSummary[]> {
  if (jobIds.length === 0) return [];
  const tips = await readTips(db, jobIds);
  const revisions = await countsOf(db, 'revisions', jobIds);
  const offers = await countsOf(db, 'offers', jobIds);
  return jobIds.map((jobId) => {
    const own = tips.filter((tip) => tip.jobId === jobId);
    const [head, ...more] = own.filter((tip) => tip.standing === 'head');
    if (head === undefined || more.length > 0) throw new BugError(`job ${jobId} has ${more.length + 1} heads or none`);
    return {
      jobId,
      head,
      asides: own.filter((tip) => tip.standing === 'aside'),
      revisionCount: revisions.get(jobId) ?? 0,
      offerCount: offers.get(jobId) ?? 0,
    };
  });
}

export async function readSummary(db: Kysely<Tables>, jobId: string): Promise<JobSummary> {
  const [summary] = await readSummaries(db, [jobId]);
  return summary!;
}

async function countsOf(
  db: Kysely<Tables>,
  table: 'revisions' | 'offers',
  jobIds: readonly string[],
): Promise<Map<string, number>> {
  const rows = await db
    .selectFrom(table)
    .select(['job_id', (eb) => eb.fn.countAll<number | string>().as('count')])
    .where('job_id', 'in', jobIds)
    .groupBy('job_id')
    .execute();
  return new Map(rows.map((row) => [row.job_id, Number(row.count)]));
}
