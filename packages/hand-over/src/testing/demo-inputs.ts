import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import type { Result } from '@gapwright/base';
import {
  type DraftJob,
  type JobFile,
  type JobInputs,
  parseJobFile,
  SHEET_SEED,
  type SheetInputs,
} from '@gapwright/job';
import { parseShopBook } from '@gapwright/process';
import { parsePost } from '@gapwright/program';

const root = (path: string): URL => new URL(`../../../../${path}`, import.meta.url);
const text = (path: string): string => readFileSync(root(path), 'utf8');

const BOOK = 'shop/starting-shop-book.json';
const POST = 'shop/posts/iso-6983.json';

function sound<T>({ value, problems }: Result<T>): T {
  if (value === null) throw new Error(problems.map((p) => p.message).join('\n'));
  return value;
}

/** A demo job as the job room takes it, with the starting shop book; `changes` overrule its job file. */
export function demoInputs(name: string, changes: Partial<JobFile> = {}): JobInputs {
  const job = { ...sound(parseJobFile(text(`demo/${name}/job.json`), `${name}/job.json`)), ...changes };
  return {
    job,
    drawing: { fileName: job.drawing, bytes: readFileSync(root(`demo/${name}/${job.drawing}`)) },
    book: sound(parseShopBook(JSON.parse(text(BOOK)))),
    post: sound(parsePost(JSON.parse(text(POST)))),
    seed: SHEET_SEED,
  };
}

/** The same with offsets rounded to hundredths of a millimetre, so that no proof to a few micrometres can pass. */
export function unprovableInputs(name: string): JobInputs {
  const post = JSON.parse(text(POST)) as { numbers: { offset: object } };
  const offset = { ...post.numbers.offset, decimals: 2 };
  return { ...demoInputs(name), post: sound(parsePost({ ...post, numbers: { ...post.numbers, offset } })) };
}

const sha256 = (bytes: Uint8Array | string): string => createHash('sha256').update(bytes).digest('hex');

/** The same job as its sheet asks it. */
export function askedOf({ job, drawing }: JobInputs): SheetInputs {
  const { gapwrightJob: _kind, drawing: _file, setUps: _setUps, ...draft } = job;
  const book = (path: string): SheetInputs['book'] => ({ sha256: sha256(text(path)), json: JSON.parse(text(path)) });
  return {
    draft: draft as DraftJob,
    drawing: { ...drawing, sha256: sha256(drawing.bytes) },
    book: book(BOOK),
    post: book(POST),
  };
}
