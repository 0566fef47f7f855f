import type {
  BookVersion,
  JobSummary,
  KeptBookVersion,
  KeptBurnRecord,
  KeptRevision,
  OfferRecord,
  Revision,
} from '@gapwright/records';
import { bookKey } from './rows.js';
import type { Transaction } from './storage.js';

/** Splits what the server says about a revision from the revision. */
function apart(kept: KeptRevision): {
  revision: Revision;
  kept: { sequence: number; standing: KeptRevision['standing'] };
} {
  const { sequence, standing, ...revision } = kept;
  return { revision, kept: { sequence, standing } };
}

export async function takeRevision(tx: Transaction, received: KeptRevision): Promise<void> {
  const { revision, kept } = apart(received);
  await tx.put('revisions', { id: revision.id, jobId: revision.jobId, revision, kept });
}

async function isWaiting(tx: Transaction, jobId: string): Promise<boolean> {
  return (await tx.all('outbox')).some((row) => row.kind === 'revision' && row.jobId === jobId);
}

/**
 * Takes the server's word on a job. The head here follows the server's unless this device has something of its own
 * that waits to be sent or to be settled.
 */
export async function takeSummary(tx: Transaction, summary: JobSummary): Promise<void> {
  const { jobId } = summary;
  const row = await tx.get('jobs', jobId);
  // Answers overtake one another on the way; one that knows fewer revisions is older.
  if (row !== undefined && summary.revisionCount < row.serverRevisionCount) return;
  await takeRevision(tx, summary.head);
  for (const aside of summary.asides) await takeRevision(tx, aside);
  const asideIds = summary.asides.map((aside) => aside.id);
  const heard = { serverHeadId: summary.head.id, asideIds, serverRevisionCount: summary.revisionCount };
  if (row === undefined) {
    await tx.put('jobs', { jobId, headId: summary.head.id, ...heard, undo: [], redo: [] });
    return;
  }
  const here = await tx.get('revisions', row.headId);
  // A revision the server took and no longer lists as aside is part of its head.
  const isPartOfHead = here !== undefined && here.kept !== null && !asideIds.includes(row.headId);
  const follows = here === undefined || (isPartOfHead && !(await isWaiting(tx, jobId)));
  await tx.put('jobs', { ...row, ...heard, headId: follows ? summary.head.id : row.headId });
}

export async function takeOffer(tx: Transaction, offer: OfferRecord): Promise<void> {
  await tx.put('offers', { id: offer.id, jobId: offer.jobId, offer });
}

export function bookVersionOf({ sequence: _, isCurrent: __, ...version }: KeptBookVersion): BookVersion {
  return version;
}

export async function takeBook(tx: Transaction, received: KeptBookVersion): Promise<void> {
  const { sequence, isCurrent } = received;
  const version = bookVersionOf(received);
  const rows = await tx.all('books');
  const known = rows.find((row) => row.sha256 === received.sha256 && row.text !== null);
  const current = rows.find((row) => row.kind === received.kind && row.kept?.isCurrent === true);
  // Old news must not take the place of a version saved later.
  const isNewest = isCurrent && !(current?.kept && current.kept.sequence > sequence);
  if (isNewest) {
    for (const row of rows) {
      if (row.kind === received.kind && row.kept?.isCurrent === true) {
        await tx.put('books', { ...row, kept: { ...row.kept, isCurrent: false } });
      }
    }
  }
  await tx.put('books', {
    key: bookKey(version),
    sha256: version.sha256,
    kind: version.kind,
    version,
    kept: { sequence, isCurrent: isNewest },
    text: known?.text ?? null,
  });
}

export async function takeBurn(tx: Transaction, received: KeptBurnRecord): Promise<void> {
  const { sequence, isInUse: _isInUse, ...record } = received;
  await tx.put('burns', { id: record.id, record, kept: { sequence } });
}
