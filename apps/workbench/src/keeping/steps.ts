import type { Revision } from '@gapwright/records';
import { changedFields, fieldsOf, mergeStates } from './fields.js';
import { plainText } from './plain-text.js';
import { type JobRow, type JobState, type OutboxRow, type SentKind, type StepBack, stateOf } from './rows.js';
import type { Transaction } from './storage.js';

/** Who makes a revision, when, under which id and with which shop book. */
export interface Making {
  readonly id: string;
  readonly madeAt: string;
  readonly madeBy: string;
  readonly bookSha256: string | null;
}

/** The schema of a revision allows no more letters. */
const LONGEST_SAYS = 300;
/** Steps kept for undo; older ones stay in the history and can be restored from there. */
const MOST_STEPS = 200;
/** Edits of one field this close together are one revision, as long as the first was never sent. */
const COALESCE_WITHIN_MS = 4000;

/** Puts something in line for the server, after everything that already waits. */
export async function enqueue(tx: Transaction, kind: SentKind, id: string, jobId: string | null): Promise<void> {
  const counter = await tx.get('meta', 'order');
  const order = (counter?.value ?? 0) + 1;
  await tx.put('meta', { key: 'order', storeId: null, value: order });
  const row: OutboxRow = { key: `${kind}:${id}`, kind, id, jobId, order, tried: false };
  await tx.put('outbox', row);
}

/** Keeps a file and puts it in line, unless this device has it already: then it waits or has arrived. */
export async function keepFile(
  tx: Transaction,
  file: { readonly sha256: string; readonly fileName: string; readonly bytes: Uint8Array },
  jobId: string,
): Promise<void> {
  if ((await tx.get('files', file.sha256)) !== undefined) return;
  await tx.put('files', file);
  await enqueue(tx, 'file', file.sha256, jobId);
}

async function put(tx: Transaction, revision: Revision, row: JobRow): Promise<void> {
  await tx.put('revisions', { id: revision.id, jobId: revision.jobId, revision, kept: null });
  await tx.put('jobs', row);
  await enqueue(tx, 'revision', revision.id, revision.jobId);
}

/** A revision whose content is as it will be sent. */
export function revisionOf(jobId: string, making: Making, parents: string[], says: string, state: JobState): Revision {
  return {
    id: making.id,
    jobId,
    parents,
    madeAt: making.madeAt,
    madeBy: making.madeBy,
    says: plainText(says, LONGEST_SAYS),
    stage: state.stage,
    // As it will be sent: fields set to undefined are open, and open fields are absent.
    content: JSON.parse(JSON.stringify(state.content)) as Record<string, unknown>,
    drawing: state.drawing,
    bookSha256: making.bookSha256,
  };
}

export async function startJob(
  tx: Transaction,
  jobId: string,
  making: Making,
  says: string,
  state: JobState,
): Promise<void> {
  const revision = revisionOf(jobId, making, [], says, state);
  await put(tx, revision, {
    jobId,
    headId: revision.id,
    serverHeadId: null,
    asideIds: [],
    serverRevisionCount: 0,
    undo: [],
    redo: [],
  });
}

/** The job and its head as they are on disk now, which another tab may have moved. */
async function headOf(tx: Transaction, jobId: string): Promise<{ row: JobRow; head: Revision } | null> {
  const row = await tx.get('jobs', jobId);
  if (row === undefined) return null;
  const head = await tx.get('revisions', row.headId);
  return head === undefined ? null : { row, head: head.revision };
}

/**
 * A new revision on top of the newest head this device knows. `change` must be pure: it runs again when another tab
 * was quicker. Nothing happens when it changes nothing.
 */
export async function editStep(
  tx: Transaction,
  jobId: string,
  making: Making,
  says: string,
  change: (state: JobState) => JobState,
): Promise<void> {
  const found = await headOf(tx, jobId);
  if (found === null) return;
  const { row, head } = found;
  const state = change(stateOf(head));
  const touched = changedFields(fieldsOf(stateOf(head)), fieldsOf(state));
  if (touched.length === 0) return;

  const earlier = await mergeableParent(tx, row, head, making, touched);
  if (earlier !== null) {
    await tx.remove('revisions', head.id);
    await tx.remove('outbox', `revision:${head.id}`);
    const revision = revisionOf(jobId, making, [...head.parents], says, state);
    await put(tx, revision, {
      ...row,
      headId: revision.id,
      undo: [...row.undo.slice(0, -1), { says: revision.says, from: revision.id, to: earlier }],
      redo: [],
    });
    return;
  }
  const revision = revisionOf(jobId, making, [head.id], says, state);
  const step: StepBack = { says: revision.says, from: revision.id, to: head.id };
  await put(tx, revision, {
    ...row,
    headId: revision.id,
    undo: [...row.undo, step].slice(-MOST_STEPS),
    redo: [],
  });
}

/** The parent under an edit of the same single field that was made moments ago and never left this device, or null. */
async function mergeableParent(
  tx: Transaction,
  row: JobRow,
  head: Revision,
  making: Making,
  touched: readonly string[],
): Promise<string | null> {
  const last = row.undo.at(-1);
  const parentId = head.parents[0];
  if (touched.length !== 1 || head.parents.length !== 1 || last === undefined || parentId === undefined) return null;
  if (last.from !== head.id || last.to !== parentId || row.redo.length > 0) return null;
  if (head.madeBy !== making.madeBy || head.bookSha256 !== making.bookSha256) return null;
  const apartMs = Date.parse(making.madeAt) - Date.parse(head.madeAt);
  if (!(apartMs >= 0 && apartMs <= COALESCE_WITHIN_MS)) return null;
  const waiting = await tx.get('outbox', `revision:${head.id}`);
  if (waiting === undefined || waiting.tried) return null;
  const parent = await tx.get('revisions', parentId);
  if (parent === undefined) return null;
  const before = changedFields(fieldsOf(stateOf(parent.revision)), fieldsOf(stateOf(head)));
  return before.length === 1 && before[0] === touched[0] ? parentId : null;
}

/**
 * Takes the newest step back (or does it again): only what that step changed, so that what came from elsewhere since
 * stays.
 */
export async function backStep(
  tx: Transaction,
  jobId: string,
  making: Making,
  direction: 'undo' | 'redo',
): Promise<void> {
  const found = await headOf(tx, jobId);
  const step = found?.row[direction].at(-1);
  if (found === null || step === undefined) return;
  const { row, head } = found;
  const leave = await tx.get('revisions', direction === 'undo' ? step.from : step.to);
  const reach = await tx.get('revisions', direction === 'undo' ? step.to : step.from);
  const rest = row[direction].slice(0, -1);
  if (leave === undefined || reach === undefined) {
    await tx.put('jobs', { ...row, [direction]: rest });
    return;
  }
  // "Mine" is the step itself, so that where both changed a field the step decides.
  const { state } = mergeStates(stateOf(leave.revision), stateOf(reach.revision), stateOf(head));
  const says = `${direction === 'undo' ? 'Undone' : 'Done again'}: ${step.says}`;
  const revision = revisionOf(jobId, making, [head.id], says, state);
  const other = direction === 'undo' ? 'redo' : 'undo';
  await put(tx, revision, { ...row, headId: revision.id, [direction]: rest, [other]: [...row[other], step] });
}

/** A two-parent revision on top of the head here and of the one beside it. */
export async function joinStep(
  tx: Transaction,
  jobId: string,
  making: Making,
  sides: { readonly mine: string; readonly theirs: string },
  says: string,
  state: JobState,
): Promise<boolean> {
  const found = await headOf(tx, jobId);
  if (found === null || found.head.id !== sides.mine) return false;
  const revision = revisionOf(jobId, making, [sides.theirs, sides.mine], says, state);
  const step: StepBack = { says: revision.says, from: revision.id, to: sides.mine };
  await put(tx, revision, {
    ...found.row,
    headId: revision.id,
    undo: [...found.row.undo, step].slice(-MOST_STEPS),
    redo: [],
  });
  return true;
}
