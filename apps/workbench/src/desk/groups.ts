import type { JobStage } from '@gapwright/records';
import { isFound, type SlipJob, titleOf } from './slip.js';
import { STAGES } from './stages.js';

export interface SlipGroup<J extends SlipJob> {
  readonly stage: JobStage;
  readonly jobs: readonly J[];
}

/** Wanted day first; jobs without one come last, by title. */
function byWantedDay(a: SlipJob, b: SlipJob): number {
  const dayA = a.draft.wantedDay ?? '9999';
  const dayB = b.draft.wantedDay ?? '9999';
  if (dayA !== dayB) return dayA < dayB ? -1 : 1;
  return titleOf(a).localeCompare(titleOf(b), 'en') || (a.jobId < b.jobId ? -1 : 1);
}

/** The jobs that fit a search, by what they wait for, in the order work goes; stages without a job are left out. */
export function groupSlips<J extends SlipJob>(jobs: readonly J[], typed: string): readonly SlipGroup<J>[] {
  const byStage = new Map<JobStage, J[]>(STAGES.map((stage) => [stage, []]));
  for (const job of jobs) if (isFound(job, typed)) byStage.get(job.stage)!.push(job);
  return STAGES.map((stage) => ({ stage, jobs: byStage.get(stage)!.sort(byWantedDay) })).filter(
    (group) => group.jobs.length > 0,
  );
}

/** What the desk lists, line by line: a heading per group, its slips below unless it is folded. */
export type DeskRow<J extends SlipJob> =
  | { readonly kind: 'heading'; readonly stage: JobStage; readonly count: number; readonly isFolded: boolean }
  | { readonly kind: 'slip'; readonly job: J; readonly place: number; readonly of: number };

export function deskRows<J extends SlipJob>(
  groups: readonly SlipGroup<J>[],
  folded: ReadonlySet<JobStage>,
): readonly DeskRow<J>[] {
  return groups.flatMap(({ stage, jobs }): readonly DeskRow<J>[] => {
    const isFolded = folded.has(stage);
    const heading = { kind: 'heading', stage, count: jobs.length, isFolded } as const;
    if (isFolded) return [heading];
    return [heading, ...jobs.map((job, i) => ({ kind: 'slip', job, place: i + 1, of: jobs.length }) as const)];
  });
}
