import type { Result } from '@gapwright/base';
import { checkJob, type JobFile } from '../job-file.js';
import type { DraftJob } from './draft-job.js';

/** Fields of a draft without which there is no plan. */
export const REQUIRED_FIELDS = ['material', 'heightMm', 'raUm', 'toleranceMm', 'quantity'] as const;

/** The job behind a draft whose required fields are all answered; what is wrong with a field is a problem that names it. */
export function jobOfDraft(draft: DraftJob, drawingName: string): Result<JobFile> {
  const { wantedDay: _wanted, promisedDay: _promised, enquiryText: _text, notes: _notes, ...fields } = draft;
  // A field that is there without a value is a field that is not answered.
  const answered = Object.entries(fields).filter(([, value]) => value !== undefined);
  return checkJob({ gapwrightJob: 1, drawing: drawingName, ...Object.fromEntries(answered) }, 'The job');
}
