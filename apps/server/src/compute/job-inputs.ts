import { type Problem, problem, type Result } from '@gapwright/base';
import { checkJob, draftJobSchema, type JobInputs, jobFileSchema } from '@gapwright/job';
import { parseShopBook } from '@gapwright/process';
import { parsePost } from '@gapwright/program';
import type { JobParts } from './compute-task.js';

/** The same start as everywhere else, so that a paper shows the loss risk that the job sheet shows. */
const SEED = 1;

/** The inputs of a job run, or everything that keeps the job from being run. */
export function jobInputsOf({ content, drawing, bookText, postText }: JobParts): Result<JobInputs> {
  const job = checkJob(jobFileOf(content, drawing.fileName), drawing.fileName);
  const book = parseJson(bookText, 'shop book', parseShopBook);
  const post = parseJson(postText, 'post definition', parsePost);
  const problems = [...job.problems, ...book.problems, ...post.problems];
  if (job.value === null || book.value === null || post.value === null) return { value: null, problems };
  return { value: { job: job.value, drawing, book: book.value, post: post.value, seed: SEED }, problems };
}

/** A draft as a job file: what the planner notes around the job stays out. */
function jobFileOf(content: unknown, drawing: string): unknown {
  const draft = draftJobSchema.safeParse(content);
  if (!draft.success) return content;
  const fields = Object.entries(draft.data).filter(([field]) => field in jobFileSchema.shape);
  return { ...Object.fromEntries(fields), gapwrightJob: 1, drawing };
}

function parseJson<T>(text: string, what: string, parse: (json: unknown) => Result<T>): Result<T> {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    const said: Problem = problem({
      code: 'BOOK-NOT-JSON',
      severity: 'stop',
      what: `The ${what} is not JSON: ${(error as Error).message}`,
      fix: 'Choose another version of it',
    });
    return { value: null, problems: [said] };
  }
  return parse(json);
}
