import type { DraftJob } from '@gapwright/job';
import type { BookKind, KeptBookVersion, KeptBurnRecord, OfferRecord, Revision } from '@gapwright/records';
import { differencesBetween } from './field-words.js';
import type { Conflict, HeldJob, SavedState } from './keeping.js';
import type { Mirror } from './mirror.js';
import { type BookRow, type BurnRow, type JobRow, type JobState, stateOf } from './rows.js';
import type { Making } from './steps.js';

/** An edit on its way to the disk. */
export interface PendingEdit {
  readonly making: Making;
  readonly says: string;
  readonly change: (state: JobState) => JobState;
}

/** The head of a job with the edits on top that are not on disk yet. */
export function headWith(revision: Revision, pending: readonly PendingEdit[]): Revision {
  let head = revision;
  for (const edit of pending) {
    const state = edit.change(stateOf(head));
    const { id, madeAt, madeBy, bookSha256 } = edit.making;
    head = {
      ...head,
      id,
      parents: [head.id],
      madeAt,
      madeBy,
      bookSha256,
      says: edit.says,
      stage: state.stage,
      content: { ...state.content },
      drawing: state.drawing,
    };
  }
  return head;
}

/** What was made beside what. Null while there is nothing to settle. */
function conflictOf(row: JobRow, mirror: Mirror): Conflict | null {
  if (row.asideIds.length === 0 || row.serverHeadId === null) return null;
  const mine = mirror.revisions.get(row.headId)?.revision;
  const line = new Set<string>();
  for (let open = [row.headId], next = open.pop(); next !== undefined; next = open.pop()) {
    if (line.has(next)) continue;
    line.add(next);
    open.push(...(mirror.revisions.get(next)?.revision.parents ?? []));
  }
  const isBeside = !line.has(row.serverHeadId);
  const theirsId = isBeside ? row.serverHeadId : row.asideIds.find((id) => !line.has(id));
  // A head that is only ahead of the server, or that already joins both, has nothing to settle.
  if (isBeside && !row.asideIds.some((id) => line.has(id))) return null;
  const theirs = theirsId === undefined ? undefined : mirror.revisions.get(theirsId)?.revision;
  if (mine === undefined || theirs === undefined) return null;
  return { mine, theirs, differences: differencesBetween(stateOf(mine), stateOf(theirs)) };
}

/** A job as screens see it; undefined when its head is not on this device. */
export function heldJob(
  row: JobRow,
  mirror: Mirror,
  pending: readonly PendingEdit[],
  isDurable: boolean,
): HeldJob | undefined {
  const head = mirror.revisions.get(row.headId);
  if (head === undefined) return undefined;
  const shown = headWith(head.revision, pending);
  let saved: SavedState = 'saved';
  if (pending.length > 0) saved = 'saving';
  else if (head.kept === null || [...mirror.outbox.values()].some((waiting) => waiting.jobId === row.jobId)) {
    saved = isDurable ? 'kept on this device' : 'saving';
  }
  const offers: OfferRecord[] = [];
  for (const { offer } of mirror.offers.values()) if (offer.jobId === row.jobId) offers.push(offer);
  return {
    jobId: row.jobId,
    head: shown,
    // Revisions hold drafts; see `revisionSchema`.
    draft: shown.content as DraftJob,
    stage: shown.stage,
    drawing: shown.drawing,
    saved,
    conflict: conflictOf(row, mirror),
    offers: offers.sort((a, b) => (a.madeAt < b.madeAt ? 1 : -1)),
    canUndo: pending.length > 0 || row.undo.length > 0,
    canRedo: pending.length === 0 && row.redo.length > 0,
    undoSays: pending.at(-1)?.says ?? row.undo.at(-1)?.says ?? null,
    redoSays: pending.length > 0 ? null : (row.redo.at(-1)?.says ?? null),
  };
}

/** Entries that wait for the server count after everything it has. */
const WAITING_SEQUENCE = 1_000_000_000;

/** All entries of the burn log, newest first. Of an entry and its corrections the latest counts, as on the server. */
export function heldBurns(mirror: Mirror): KeptBurnRecord[] {
  const place = (row: BurnRow): number =>
    row.kept?.sequence ?? WAITING_SEQUENCE + (mirror.outbox.get(`burn:${row.id}`)?.order ?? 0);
  const rootOf = (row: BurnRow): string => {
    const { replaces } = row.record;
    const replaced = replaces === null ? undefined : mirror.burns.get(replaces);
    // An entry can only replace one that was there before it, so this ends.
    return replaced === undefined ? (replaces ?? row.id) : rootOf(replaced);
  };
  const latest = new Map<string, number>();
  for (const row of mirror.burns.values()) {
    const root = rootOf(row);
    latest.set(root, Math.max(latest.get(root) ?? 0, place(row)));
  }
  return [...mirror.burns.values()]
    .map((row) => ({ ...row.record, sequence: place(row), isInUse: place(row) === latest.get(rootOf(row)) }))
    .sort((a, b) => b.sequence - a.sequence);
}

/** The version in use: the newest that waits to be sent, else the one the server has as current. */
export function bookInUse(mirror: Mirror, kind: BookKind): BookRow | undefined {
  let waiting: BookRow | undefined;
  let current: BookRow | undefined;
  let waitingOrder = -1;
  for (const row of mirror.books.values()) {
    // Without its text a version cannot be used; it is fetched as soon as the server names it.
    if (row.kind !== kind || row.text === null) continue;
    const order = mirror.outbox.get(`book:${row.key}`)?.order;
    if (order !== undefined && order > waitingOrder) {
      waiting = row;
      waitingOrder = order;
    }
    if (row.kept?.isCurrent === true) current = row;
  }
  return waiting ?? current;
}

/** Versions of a book, newest first. */
export function heldVersions(mirror: Mirror, kind: BookKind): KeptBookVersion[] {
  const inUse = bookInUse(mirror, kind)?.key;
  return [...mirror.books.values()]
    .filter((row) => row.kind === kind)
    .map((row) => ({
      ...row.version,
      sequence: row.kept?.sequence ?? WAITING_SEQUENCE + (mirror.outbox.get(`book:${row.key}`)?.order ?? 0),
      isCurrent: row.key === inUse,
    }))
    .sort((a, b) => b.sequence - a.sequence);
}

/**
 * The version saved last beside the one in use: it was made from an older one, so the server keeps it without using it.
 * Null once a version was saved after it.
 */
export function bookBeside(mirror: Mirror, kind: BookKind): BookRow | null {
  const used = bookInUse(mirror, kind);
  if (used === undefined || used.kept === null) return null;
  let newest: BookRow | null = null;
  for (const row of mirror.books.values()) {
    if (row.kind !== kind || row.sha256 === used.sha256 || row.kept === null) continue;
    // Starting values that another program brought along are nobody's work.
    if (row.version.parent === null) continue;
    if (row.kept.sequence > (newest?.kept?.sequence ?? used.kept.sequence)) newest = row;
  }
  return newest;
}
