import type { DraftJob } from '@gapwright/job';
import type { FileRef, JobStage, OfferRecord } from '@gapwright/records';
import type { SavedState } from '../keeping/index.js';
import { plainText } from '../shell/find.js';

/** What a slip shows of a job; a held job is one. */
export interface SlipJob {
  readonly jobId: string;
  readonly draft: DraftJob;
  readonly stage: JobStage;
  readonly drawing: FileRef | null;
  readonly saved: SavedState;
  readonly conflict: object | null;
  readonly offers: readonly Pick<OfferRecord, 'madeAt' | 'unitPrice' | 'currency' | 'promisedDay'>[];
}

/** Title of a job on slips, in the finder and in the browser's tab. */
export function titleOf(job: Pick<SlipJob, 'draft' | 'drawing'>): string {
  return job.draft.title?.trim() || job.drawing?.fileName || 'Enquiry without a title';
}

/** What a drawing's name says it is. */
export function isSolidFile(fileName: string): boolean {
  return /\.(stp|step|stl)$/i.test(fileName);
}

const searchable = new WeakMap<SlipJob, string>();

/** Everything a job can be found by, made comparable once per state of it. */
function searchTextOf(job: SlipJob): string {
  let text = searchable.get(job);
  if (text === undefined) {
    const { title, customer, enquiry, material, notes, enquiryText } = job.draft;
    text = plainText(
      [title, customer, enquiry, material, job.drawing?.fileName, notes, enquiryText]
        .filter((part) => part !== undefined)
        .join('\n'),
    );
    searchable.set(job, text);
  }
  return text;
}

/** True when every typed word occurs somewhere in the job. */
export function isFound(job: SlipJob, typed: string): boolean {
  const words = plainText(typed).split(/\s+/).filter(Boolean);
  if (words.length === 0) return true;
  const text = searchTextOf(job);
  return words.every((word) => text.includes(word));
}
