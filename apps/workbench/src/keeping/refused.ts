import type { BookKind } from '@gapwright/records';
import { bookKey, type OutboxRow, stateOf } from './rows.js';
import { carryOver } from './send-again.js';
import type { ServerRefused } from './server-api.js';
import type { StartingBook } from './starting-books.js';
import { enqueue, type Making, revisionOf } from './steps.js';
import type { Transaction } from './storage.js';

/** What the server lacks that this device may have. */
const LACKING = new Set(['STORE-PARENT-UNKNOWN', 'STORE-FILE-UNKNOWN', 'STORE-BURN-UNKNOWN']);

/** What a way around a refusal needs. */
export interface WayTools {
  readonly startingBooks: readonly StartingBook[];
  making(): Making;
}

/**
 * Finds a way around a refusal; true when something changed so that sending again makes sense. Nothing kept on this
 * device is removed by it.
 */
export async function goAround(
  tx: Transaction,
  row: OutboxRow,
  refusal: ServerRefused,
  tools: WayTools,
): Promise<boolean> {
  if (LACKING.has(refusal.code)) {
    if (row.kind === 'revision' && row.jobId !== null) return carryOver(tx, row.jobId, tools.making());
    if (row.kind === 'book') return sendParentBook(tx, row, tools);
    if (row.kind === 'burn') return sendReplacedBurn(tx, row);
    return false;
  }
  const isContent = refusal.status === 422 || refusal.status === 400 || refusal.status === 413;
  return row.kind === 'revision' && row.jobId !== null && isContent
    ? skipRefused(tx, row.id, row.jobId, tools.making())
    : false;
}

/**
 * The server will never take this state (a field it does not allow), but what was made on top of it may be fine: sends
 * the newest state in place of everything from the refused one on. The states between stay on this device.
 */
async function skipRefused(tx: Transaction, refusedId: string, jobId: string, making: Making): Promise<boolean> {
  const job = await tx.get('jobs', jobId);
  const refused = await tx.get('revisions', refusedId);
  const head = job === undefined ? undefined : await tx.get('revisions', job.headId);
  if (job === undefined || refused === undefined || head === undefined || head.id === refusedId) return false;
  const waiting = (await tx.all('outbox')).filter((row) => row.kind === 'revision' && row.jobId === jobId);
  for (const row of waiting) await tx.remove('outbox', row.key);
  const says = head.revision.says;
  const revision = revisionOf(jobId, making, [...refused.revision.parents], says, stateOf(head.revision));
  await tx.put('revisions', { id: revision.id, jobId, revision, kept: null });
  await tx.put('jobs', { ...job, headId: revision.id });
  await enqueue(tx, 'revision', revision.id, jobId);
  return true;
}

async function sendParentBook(tx: Transaction, row: OutboxRow, { startingBooks, making }: WayTools): Promise<boolean> {
  const child = await tx.get('books', row.id);
  const parent = child?.version.parent;
  if (child === undefined || parent == null) return false;
  let key = (await tx.all('books')).find((book) => book.sha256 === parent && book.text !== null)?.key;
  if (key === undefined) {
    const starting = startingBooks.find((book) => book.sha256 === parent);
    if (starting === undefined) return false;
    key = await keepStartingBook(tx, starting, making());
  }
  if ((await tx.get('outbox', `book:${key}`)) === undefined) await enqueue(tx, 'book', key, null);
  // Behind its parent.
  await enqueue(tx, 'book', row.id, null);
  return true;
}

async function keepStartingBook(tx: Transaction, starting: StartingBook, making: Making): Promise<string> {
  const { kind, sha256, text }: { kind: BookKind; sha256: string; text: string } = starting;
  const { madeAt, madeBy } = making;
  const version = { kind, sha256, parent: null, madeAt, madeBy, says: 'Starting values, as they come with the page' };
  const key = bookKey(version);
  await tx.put('books', { key, sha256, kind, version, kept: null, text });
  return key;
}

async function sendReplacedBurn(tx: Transaction, row: OutboxRow): Promise<boolean> {
  const replaced = (await tx.get('burns', row.id))?.record.replaces;
  if (replaced == null || (await tx.get('burns', replaced)) === undefined) return false;
  if ((await tx.get('outbox', `burn:${replaced}`)) === undefined) await enqueue(tx, 'burn', replaced, null);
  await enqueue(tx, 'burn', row.id, null);
  return true;
}
