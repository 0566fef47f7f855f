import type { JobStage } from '@gapwright/records';

interface StageWords {
  /** Heading of the group on the desk. */
  readonly heading: string;
  /** What a planner did when a job comes here, as the words of the menu. */
  readonly move: string;
  /** The same as it is written into the job's history. */
  readonly says: string;
}

/** The stages in the order work goes through them, with their words. */
export const STAGE_WORDS: Readonly<Record<JobStage, StageWords>> = {
  'to read': { heading: 'To read', move: 'Read it again', says: 'Put back to be read' },
  'to price': { heading: 'To price', move: 'Read; to price', says: 'Read, waits for a price' },
  'with the customer': { heading: 'With the customer', move: 'Offer sent', says: 'Offer sent to the customer' },
  'to release': { heading: 'To release', move: 'Ordered', says: 'Ordered by the customer' },
  burning: { heading: 'Burning', move: 'Released to the floor', says: 'Released to the floor' },
  'to inspect': { heading: 'To inspect', move: 'Burned; to inspect', says: 'Burned, waits for inspection' },
  closed: { heading: 'Closed', move: 'Close', says: 'Closed' },
};

export const STAGES = Object.keys(STAGE_WORDS) as readonly JobStage[];

/** Where a job may be moved, the natural next step first. A closed job may be opened again anywhere. */
export function movesFrom(stage: JobStage): readonly JobStage[] {
  const at = STAGES.indexOf(stage);
  return [...STAGES.slice(at + 1), ...STAGES.slice(0, at)];
}
