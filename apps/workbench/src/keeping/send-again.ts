import { type BookRow, type JobRow, type RevisionRow, stateOf } from './rows.js';
import { enqueue, type Making, revisionOf } from './steps.js';
import type { Transaction } from './storage.js';

/** What a job's head was made from, parents first; `isWhole` when nothing of it is missing on this device. */
function lineOfHead(job: JobRow, rows: readonly RevisionRow[]): { line: RevisionRow[]; isWhole: boolean } {
  const byId = new Map(rows.map((row) => [row.id, row]));
  const line: RevisionRow[] = [];
  const seen = new Set<string>();
  let isWhole = true;
  // Depth first without recursion: a history may be long.
  const open: { id: string; isDone: boolean }[] = [{ id: job.headId, isDone: false }];
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const row = byId.get(next.id);
    if (next.isDone && row !== undefined) line.push(row);
    if (next.isDone || seen.has(next.id)) continue;
    seen.add(next.id);
    if (row === undefined) {
      isWhole = false;
      continue;
    }
    open.push({ id: next.id, isDone: true });
    for (const parent of row.revision.parents) open.push({ id: parent, isDone: false });
  }
  return { line, isWhole };
}

/** Puts a job's head and everything it was made from in line again; what the server has already, it has once. */
async function sendLine(tx: Transaction, job: JobRow, line: readonly RevisionRow[]): Promise<void> {
  for (const row of await tx.all('outbox')) if (row.jobId === job.jobId) await tx.remove('outbox', row.key);
  const files = new Set(line.flatMap(({ revision }) => (revision.drawing === null ? [] : [revision.drawing.sha256])));
  for (const sha256 of files) {
    if ((await tx.get('files', sha256)) !== undefined) await enqueue(tx, 'file', sha256, job.jobId);
  }
  for (const row of line) {
    await tx.put('revisions', { ...row, kept: null });
    await enqueue(tx, 'revision', row.id, job.jobId);
  }
}

/**
 * Puts a job in line from its first revision, because the server lost it or never had it. Where this device has only
 * the end of its history, the job is carried over as it stands, as the first revision of a history of its own.
 */
export async function carryOver(tx: Transaction, jobId: string, making: Making): Promise<boolean> {
  const job = await tx.get('jobs', jobId);
  if (job === undefined) return false;
  const { line, isWhole } = lineOfHead(job, await tx.revisionsOf(jobId));
  if (isWhole) {
    await sendLine(tx, job, line);
    return true;
  }
  const head = line.find((row) => row.id === job.headId);
  if (head === undefined) return false;
  const says = `Carried over from ${head.revision.madeBy}: ${head.revision.says}`;
  const revision = revisionOf(jobId, making, [], says, stateOf(head.revision));
  const row = { id: revision.id, jobId, revision, kept: null };
  await tx.put('jobs', { ...job, headId: revision.id });
  await sendLine(tx, job, [row]);
  return true;
}

const bookPlace = (row: BookRow): number => row.kept?.sequence ?? Number.POSITIVE_INFINITY;

/**
 * Puts everything on this device in line: for another store (`isOther`), or for the same one that lost what it had.
 * Offers stay here; only the server that made them has their papers.
 */
export async function sendEverything(
  tx: Transaction,
  storeId: string,
  isOther: boolean,
  making: () => Making,
): Promise<void> {
  await tx.put('meta', { key: 'store', storeId, value: 0 });
  const waiting = await tx.all('outbox');
  const orderOf = (key: string): number => waiting.find((row) => row.key === key)?.order ?? 0;
  for (const job of await tx.all('jobs')) {
    const fresh: JobRow = { ...job, serverHeadId: null, asideIds: [], serverRevisionCount: 0 };
    await tx.put('jobs', fresh);
    if (isOther) await carryOver(tx, job.jobId, making());
    else await sendLine(tx, fresh, lineOfHead(fresh, await tx.revisionsOf(job.jobId)).line);
  }
  const books = (await tx.all('books')).filter((row) => row.text !== null);
  books.sort((a, b) => bookPlace(a) - bookPlace(b) || orderOf(`book:${a.key}`) - orderOf(`book:${b.key}`));
  for (const row of books) {
    await tx.put('books', { ...row, kept: null });
    await enqueue(tx, 'book', row.key, null);
  }
  const burns = await tx.all('burns');
  const place = (id: string, sequence: number | undefined): number => sequence ?? 1e9 + orderOf(`burn:${id}`);
  burns.sort((a, b) => place(a.id, a.kept?.sequence) - place(b.id, b.kept?.sequence));
  for (const row of burns) {
    await tx.put('burns', { ...row, kept: null });
    await enqueue(tx, 'burn', row.id, null);
  }
}
