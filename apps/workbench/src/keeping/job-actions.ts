import type { DraftJob } from '@gapwright/job';
import type { FileRef, JobHistory, KeptRevision, Revision } from '@gapwright/records';
import type { Keeper } from './keeper.js';
import type { Keeping } from './keeping.js';
import { type JobState, stateOf } from './rows.js';
import { type ServerApi, ServerAway, ServerRefused } from './server-api.js';
import { sha256Of } from './sha256.js';
import { backStep, editStep, joinStep, keepFile, startJob } from './steps.js';
import { takeRevision, takeSummary } from './take.js';

const fileRef = (sha256: string, fileName: string, bytes: Uint8Array): FileRef => ({
  sha256,
  fileName,
  byteLength: bytes.byteLength,
});

/** Unheard errors of edits that answer nothing are put up as a notice. */
function heard(keeper: Keeper, what: string, work: Promise<unknown>): void {
  work.catch((error: unknown) => {
    const why = error instanceof Error ? error.message : String(error);
    keeper.notices.put({ id: `fault-${what}`, says: `${what} did not work: ${why}`, choices: [] });
  });
}

export function makeJobActions(keeper: Keeper, api: ServerApi) {
  const edit = (jobId: string, says: string, change: (state: JobState) => JobState): void =>
    keeper.edit(jobId, says, change);

  const revisionAt = async (jobId: string, revisionId: string): Promise<Revision> => {
    const here = await keeper.read((tx) => tx.get('revisions', revisionId));
    if (here !== undefined) return here.revision;
    await history(jobId);
    const fetched = await keeper.read((tx) => tx.get('revisions', revisionId));
    if (fetched === undefined) throw new ServerAway('This state is not on this device and the server does not answer.');
    return fetched.revision;
  };

  const history = async (jobId: string): Promise<JobHistory> => {
    try {
      const answer = await api.history(jobId);
      await keeper.commit(async (tx) => {
        for (const revision of answer.revisions) await takeRevision(tx, revision);
        await takeSummary(tx, answer.summary);
      });
      const known = new Set(answer.revisions.map((revision) => revision.id));
      const own = (await localHistory(jobId)).revisions.filter((revision) => !known.has(revision.id));
      return { ...answer, revisions: [...own, ...answer.revisions] };
    } catch (error) {
      // Away, or it never had this job: then what this device has is all there is.
      if (!(error instanceof ServerAway || error instanceof ServerRefused)) throw error;
      return localHistory(jobId);
    }
  };

  const localHistory = async (jobId: string): Promise<JobHistory> => {
    const row = keeper.mirror.jobs.get(jobId);
    if (row === undefined) throw new Error(`There is no job ${jobId} on this device.`);
    const rows = await keeper.read((tx) => tx.revisionsOf(jobId));
    const waiting = (id: string): number => keeper.mirror.outbox.get(`revision:${id}`)?.order ?? 0;
    const kept = (id: string): KeptRevision => {
      const found = rows.find((candidate) => candidate.id === id);
      if (found === undefined) throw new Error(`Revision ${id} is not on this device.`);
      const standing = id === row.headId ? 'head' : row.asideIds.includes(id) ? 'aside' : 'past';
      const highest = 1_000_000_000;
      return { ...found.revision, sequence: found.kept?.sequence ?? highest + waiting(id), standing };
    };
    const revisions = rows.map((found) => kept(found.id)).sort((a, b) => b.sequence - a.sequence);
    const offers = keeper.job(jobId)?.offers ?? [];
    return {
      summary: {
        jobId,
        head: kept(row.headId),
        asides: row.asideIds.filter((id) => id !== row.headId).map(kept),
        revisionCount: Math.max(revisions.length, row.serverRevisionCount, 1),
        offerCount: offers.length,
      },
      revisions,
      offers: [...offers],
    };
  };

  return {
    async createJob(start: Parameters<Keeping['createJob']>[0]): Promise<string> {
      const jobId = keeper.tools.newId();
      const { drawing } = start;
      const sha256 = drawing === null ? null : await sha256Of(drawing.bytes);
      const making = keeper.making();
      await keeper.inLine(async (tx) => {
        if (drawing !== null && sha256 !== null) await keepFile(tx, { ...drawing, sha256 }, jobId);
        const state: JobState = {
          content: { ...start.draft },
          stage: 'to read',
          drawing: drawing === null || sha256 === null ? null : fileRef(sha256, drawing.fileName, drawing.bytes),
        };
        await startJob(tx, jobId, making, start.says, state);
      });
      return jobId;
    },
    editJob(jobId: string, says: string, change: (draft: DraftJob) => DraftJob): void {
      edit(jobId, says, (state) => ({ ...state, content: { ...change(state.content as DraftJob) } }));
    },
    async setDrawing(jobId: string, fileName: string, bytes: Uint8Array): Promise<void> {
      const sha256 = await sha256Of(bytes);
      const making = keeper.making();
      await keeper.inLine(async (tx) => {
        await keepFile(tx, { sha256, fileName, bytes }, jobId);
        await editStep(tx, jobId, making, `Drawing set to ${fileName}`, (state) => ({
          ...state,
          drawing: fileRef(sha256, fileName, bytes),
        }));
      });
    },
    setStage(jobId: string, stage: JobState['stage'], says: string): void {
      edit(jobId, says, (state) => ({ ...state, stage }));
    },
    undo(jobId: string): void {
      heard(
        keeper,
        'Undo',
        keeper.inLine((tx) => backStep(tx, jobId, keeper.making(), 'undo')),
      );
    },
    redo(jobId: string): void {
      heard(
        keeper,
        'Redo',
        keeper.inLine((tx) => backStep(tx, jobId, keeper.making(), 'redo')),
      );
    },
    settle(jobId: string, keep: 'mine' | 'theirs'): void {
      const conflict = keeper.job(jobId)?.conflict;
      if (conflict == null) return;
      const { mine, theirs } = conflict;
      const kept = keep === 'mine' ? mine : theirs;
      const left = keep === 'mine' ? theirs : mine;
      const says = `Settled: kept what ${kept.madeBy} made ("${kept.says}"), not what ${left.madeBy} made ("${left.says}")`;
      const sides = { mine: mine.id, theirs: theirs.id };
      heard(
        keeper,
        'Settling',
        keeper.inLine(async (tx) => {
          await joinStep(tx, jobId, keeper.making(), sides, says, stateOf(kept));
        }),
      );
    },
    history,
    restore(jobId: string, revisionId: string): void {
      const work = async (): Promise<void> => {
        const old = await revisionAt(jobId, revisionId);
        edit(jobId, `Back to "${old.says}" of ${old.madeAt.slice(0, 16).replace('T', ' ')}`, () => stateOf(old));
      };
      heard(keeper, 'Going back', work());
    },
    async fileBytes(sha256: string): Promise<Uint8Array> {
      const here = await keeper.read((tx) => tx.get('files', sha256));
      if (here !== undefined) return here.bytes;
      let bytes: Uint8Array;
      try {
        bytes = await api.fileBytes(sha256);
      } catch (error) {
        if (!(error instanceof ServerAway)) throw error;
        throw new ServerAway('This file is not on this device yet and the server does not answer. Try again later.');
      }
      if ((await sha256Of(bytes)) !== sha256) throw new Error('The file arrived damaged. Try again.');
      await keeper.commit((tx) => tx.put('files', { sha256, fileName: sha256, bytes }));
      return bytes;
    },
  };
}
