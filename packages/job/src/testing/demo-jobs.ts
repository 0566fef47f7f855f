import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseShopBook } from '@gapwright/process';
import { parsePost } from '@gapwright/program';
import { type JobFile, parseJobFile } from '../job-file.js';
import type { JobInputs } from '../run-job.js';
import type { DraftJob } from '../sheet/draft-job.js';
import type { SheetInputs } from '../sheet/sheet-inputs.js';

const ROOT = fileURLToPath(new URL('../../../..', import.meta.url));

/** Names of the jobs in `demo/`. */
export const DEMO_JOBS: readonly string[] = readdirSync(join(ROOT, 'demo')).filter((name) => !name.includes('.'));

const BOOK_TEXT = readFileSync(join(ROOT, 'shop/starting-shop-book.json'), 'utf8');
const POST_TEXT = readFileSync(join(ROOT, 'shop/posts/iso-6983.json'), 'utf8');

const sha256 = (content: string | Uint8Array): string => createHash('sha256').update(content).digest('hex');

/** A demo job as `runJob` takes it. */
export function demoInputs(name: string): JobInputs {
  const path = (file: string): string => join(ROOT, 'demo', name, file);
  const job = parseJobFile(readFileSync(path('job.json'), 'utf8'), 'job.json').value!;
  return {
    job,
    drawing: { bytes: readFileSync(path(job.drawing)), fileName: job.drawing },
    book: parseShopBook(JSON.parse(BOOK_TEXT)).value!,
    post: parsePost(JSON.parse(POST_TEXT)).value!,
    seed: 1,
  };
}

/** The draft a job file came from. */
export function draftOfJob({
  gapwrightJob: _version,
  drawing: _drawing,
  setUps: _setUps,
  ...draft
}: JobFile): DraftJob {
  return draft;
}

/** A demo job as the sheet takes it. */
export function demoJob(name: string, draft?: DraftJob): SheetInputs {
  const { job, drawing } = demoInputs(name);
  return {
    draft: draft ?? draftOfJob(job),
    drawing: { ...drawing, sha256: sha256(drawing.bytes) },
    book: { sha256: sha256(BOOK_TEXT), json: JSON.parse(BOOK_TEXT) },
    post: { sha256: sha256(POST_TEXT), json: JSON.parse(POST_TEXT) },
  };
}
