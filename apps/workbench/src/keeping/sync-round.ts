import { commonBases, type Lineage } from './ancestry.js';
import { labelOf } from './field-words.js';
import { isSame, type Merged, mergeStates } from './fields.js';
import { goAround } from './refused.js';
import { bookKey, type JobRow, type OutboxRow, stateOf } from './rows.js';
import { type ServerApi, ServerRefused } from './server-api.js';
import type { StartingBook } from './starting-books.js';
import { joinStep, type Making } from './steps.js';
import type { Transaction } from './storage.js';
import { bookVersionOf, takeBook, takeBurn, takeOffer, takeRevision, takeSummary } from './take.js';

/** What a round of keeping works with. */
export interface RoundTools {
  readonly api: ServerApi;
  read<T>(work: (tx: Transaction) => Promise<T>): Promise<T>;
  commit<T>(work: (tx: Transaction) => Promise<T>): Promise<T>;
  making(): Making;
  readonly startingBooks: readonly StartingBook[];
}

/** Something the server refused; it stays on this device. */
export interface Refusal {
  readonly key: string;
  readonly jobId: string | null;
  readonly says: string;
}

const byOrder = (a: OutboxRow, b: OutboxRow): number => a.order - b.order;

/**
 * Sends everything that waits, in order. Throws `ServerAway` when the server does not answer; what was sent by then is
 * marked. What is refused holds back only what comes after it in the same job.
 */
export async function sendAll(tools: RoundTools): Promise<Refusal[]> {
  const refusals: Refusal[] = [];
  const heldJobs = new Set<string>();
  const done = new Set<string>();
  const goneAround = new Set<string>();
  for (;;) {
    const waiting = (await tools.read((tx) => tx.all('outbox'))).sort(byOrder);
    const next = waiting.find((row) => !done.has(row.key) && !(row.jobId !== null && heldJobs.has(row.jobId)));
    if (next === undefined) return refusals;
    done.add(next.key);
    try {
      await sendOne(tools, next.key);
    } catch (error) {
      if (!(error instanceof ServerRefused)) throw error;
      // One way around for each job, book or burn in a round, or a stubborn server would keep this going for ever.
      const subject = next.jobId ?? next.key;
      if (!goneAround.has(subject)) {
        goneAround.add(subject);
        if (await tools.commit((tx) => goAround(tx, next, error, tools))) {
          done.clear();
          for (const refusal of refusals) done.add(refusal.key);
          continue;
        }
      }
      refusals.push({ key: next.key, jobId: next.jobId, says: error.message });
      if (next.jobId !== null) heldJobs.add(next.jobId);
    }
  }
}

/** From the moment a row is marked tried, its revision is never changed: it may have arrived whatever happens next. */
async function markTried(tx: Transaction, key: string): Promise<OutboxRow | undefined> {
  const row = await tx.get('outbox', key);
  if (row !== undefined && !row.tried) await tx.put('outbox', { ...row, tried: true });
  return row;
}

async function sendOne(tools: RoundTools, key: string): Promise<void> {
  const { api } = tools;
  const payload = await tools.commit(async (tx) => {
    const row = await markTried(tx, key);
    if (row === undefined) return null;
    switch (row.kind) {
      case 'file':
        return { kind: row.kind, row: await tx.get('files', row.id) } as const;
      case 'revision':
        return { kind: row.kind, row: await tx.get('revisions', row.id) } as const;
      case 'book':
        return { kind: row.kind, row: await tx.get('books', row.id) } as const;
      case 'burn':
        return { kind: row.kind, row: await tx.get('burns', row.id) } as const;
    }
  });
  if (payload === null) return;
  const arrived = (take: (tx: Transaction) => Promise<void>): Promise<void> =>
    tools.commit(async (tx) => {
      await tx.remove('outbox', key);
      await take(tx);
    });
  if (payload.row === undefined) return arrived(async () => undefined);
  switch (payload.kind) {
    case 'file': {
      await api.putFile(payload.row.sha256, payload.row.bytes);
      return arrived(async () => undefined);
    }
    case 'revision': {
      const answer = await api.putRevision(payload.row.revision);
      return arrived(async (tx) => {
        await takeRevision(tx, answer.saved);
        await takeSummary(tx, answer.summary);
      });
    }
    case 'book': {
      const kept = await api.putBook(payload.row.version, payload.row.text ?? '');
      const sent = payload.row.key;
      return arrived(async (tx) => {
        await takeBook(tx, kept);
        // The server had the same text in use already, as a version of its own.
        if (bookKey(bookVersionOf(kept)) !== sent) await tx.remove('books', sent);
      });
    }
    case 'burn': {
      const kept = await api.putBurn(payload.row.record);
      return arrived((tx) => takeBurn(tx, kept));
    }
  }
}

/** Takes everything the server kept since this device last asked. Answers false when it turned out to be another store. */
export async function takeAll(tools: RoundTools): Promise<boolean> {
  for (;;) {
    const store = await tools.read((tx) => tx.get('meta', 'store'));
    const changes = await tools.api.changes(store?.value ?? 0);
    if (store !== undefined && store.storeId !== null && store.storeId !== changes.storeId) return false;
    await tools.commit(async (tx) => {
      for (const summary of changes.jobs) await takeSummary(tx, summary);
      for (const offer of changes.offers) await takeOffer(tx, offer);
      for (const book of changes.books) await takeBook(tx, book);
      for (const burn of changes.burns) await takeBurn(tx, burn);
      const sequence = Math.max(changes.sequence, store?.value ?? 0);
      await tx.put('meta', { key: 'store', storeId: changes.storeId, value: sequence });
    });
    if (!changes.more) return true;
  }
}

/** Jobs whose head here was made beside the server's, with nothing left to send. */
async function jobsBeside(tx: Transaction): Promise<JobRow[]> {
  const waiting = new Set((await tx.all('outbox')).filter((row) => row.kind === 'revision').map((row) => row.jobId));
  return (await tx.all('jobs')).filter((row) => row.asideIds.includes(row.headId) && !waiting.has(row.jobId));
}

/**
 * Joins heads made beside the server's where no field was changed on both sides. The others wait for the planner.
 * `seen` remembers pairs that clash, so that they are not asked about again.
 */
export async function joinAsides(tools: RoundTools, seen: Set<string>): Promise<void> {
  for (const row of await tools.read(jobsBeside)) {
    const pair = `${row.headId} ${row.serverHeadId}`;
    if (row.serverHeadId === null || seen.has(pair)) continue;
    const history = await tools.api.history(row.jobId);
    await tools.commit(async (tx) => {
      for (const received of history.revisions) {
        const known = await tx.get('revisions', received.id);
        if (known === undefined) await takeRevision(tx, received);
      }
    });
    const known = await lineageOf(tools, row.jobId);
    const merged = mergeOverBases(row.headId, row.serverHeadId, known);
    const theirs = known.get(row.serverHeadId);
    if (merged === null || theirs === undefined) {
      seen.add(pair);
      continue;
    }
    const labels = merged.taken.map(labelOf).join(', ');
    const says =
      labels === '' ? `Joined with the same made by ${theirs.madeBy}` : `Joined with ${labels} from ${theirs.madeBy}`;
    const sides = { mine: row.headId, theirs: row.serverHeadId };
    await tools.commit((tx) => joinStep(tx, row.jobId, tools.making(), sides, says, merged.state));
  }
}

async function lineageOf(tools: Pick<RoundTools, 'read'>, jobId: string): Promise<Lineage> {
  const rows = await tools.read((tx) => tx.revisionsOf(jobId));
  return new Map(rows.map((row) => [row.id, row.revision]));
}

/**
 * Three-way merge over every newest common base. Null when a field clashes, when nothing is shared, or when two bases
 * give two answers (both sides settled an earlier conflict their own way).
 */
function mergeOverBases(mineId: string, theirsId: string, known: Lineage): Merged | null {
  const mine = known.get(mineId);
  const theirs = known.get(theirsId);
  if (mine === undefined || theirs === undefined) return null;
  if (isSame(stateOf(mine), stateOf(theirs))) return { state: stateOf(mine), clashes: [], taken: [] };
  let agreed: Merged | null = null;
  for (const baseId of commonBases(mineId, theirsId, known)) {
    const base = known.get(baseId);
    if (base === undefined) return null;
    const merged = mergeStates(stateOf(base), stateOf(mine), stateOf(theirs));
    if (merged.clashes.length > 0) return null;
    if (agreed !== null && !isSame(agreed.state, merged.state)) return null;
    agreed = merged;
  }
  return agreed;
}
