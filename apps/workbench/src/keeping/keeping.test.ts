import { keptRevisionSchema, revisionSchema } from '@gapwright/records';
import { describe, expect, it } from 'vitest';
import { ServerAway } from './server-api.js';
import { Device, Numbers } from './testing/device.js';
import { FakeServer } from './testing/fake-server.js';

const STORE = '00000000-0000-4000-8000-00000000aaaa';

async function start(server = new FakeServer(STORE)) {
  const a = await Device.open('Device A', server, new Numbers(1));
  const jobId = await a.actions.createJob({
    draft: { title: 'Plate', material: 'Inconel718' },
    drawing: { fileName: 'plate.dxf', bytes: new TextEncoder().encode('0\nEOF\n') },
    says: 'Started from plate.dxf',
  });
  return { server, a, jobId };
}

describe('keeping a job', () => {
  it('calls an edit saved only after the server answered', async () => {
    const { server, a, jobId } = await start();
    expect(a.keeper.job(jobId)?.saved).toBe('kept on this device');
    await a.round();
    expect(a.keeper.job(jobId)?.saved).toBe('saved');
    a.actions.editJob(jobId, 'Wire set to B20', (draft) => ({ ...draft, wire: 'B20' }));
    expect(a.keeper.job(jobId)?.saved).toBe('saving');
    expect(a.keeper.job(jobId)?.draft.wire).toBe('B20');
    await a.settled();
    expect(a.keeper.job(jobId)?.saved).toBe('kept on this device');
    await a.round();
    expect(a.keeper.job(jobId)?.saved).toBe('saved');
    const history = await server.history(jobId);
    expect(history.revisions.map((revision) => revision.says)).toEqual(['Wire set to B20', 'Started from plate.dxf']);
    for (const revision of history.revisions) keptRevisionSchema.parse(revision);
  });

  it('makes one revision of quick edits of one field, and never touches one that may have left', async () => {
    const server = new FakeServer(STORE);
    const a = await Device.open('Device A', server, new Numbers(1, 10));
    const jobId = await a.actions.createJob({ draft: {}, drawing: null, says: 'Started' });
    for (const title of ['P', 'Pl', 'Plate']) {
      a.actions.editJob(jobId, `Title set to ${title}`, (draft) => ({ ...draft, title }));
    }
    a.actions.editJob(jobId, 'Quantity set to 3', (draft) => ({ ...draft, quantity: 3 }));
    await a.settled();
    const rows = await a.keeper.read((tx) => tx.revisionsOf(jobId));
    expect(rows.map((row) => row.revision.says)).toEqual(['Started', 'Title set to Plate', 'Quantity set to 3']);
    for (const row of rows) revisionSchema.parse(row.revision);
    a.actions.undo(jobId);
    a.actions.undo(jobId);
    await a.settled();
    expect(a.keeper.job(jobId)?.draft).toEqual({});

    await a.keeper.commit(async (tx) => {
      for (const row of await tx.all('outbox')) await tx.put('outbox', { ...row, tried: true });
    });
    const before = a.keeper.job(jobId)?.head.id;
    a.actions.editJob(jobId, 'Title set to Ring', (draft) => ({ ...draft, title: 'Ring' }));
    await a.settled();
    expect(a.keeper.job(jobId)?.head.parents).toEqual([before]);
  });

  it('undoes and does again in words, with new revisions', async () => {
    const { a, jobId } = await start();
    a.actions.editJob(jobId, 'Wire set to B20', (draft) => ({ ...draft, wire: 'B20' }));
    a.actions.setStage(jobId, 'to price', 'Read');
    await a.settled();
    expect(a.keeper.job(jobId)).toMatchObject({ undoSays: 'Read', canUndo: true, canRedo: false });
    a.actions.undo(jobId);
    a.actions.undo(jobId);
    await a.settled();
    const undone = a.keeper.job(jobId);
    expect(undone?.head.says).toBe('Undone: Wire set to B20');
    expect(undone?.stage).toBe('to read');
    expect(undone?.draft.wire).toBeUndefined();
    a.actions.redo(jobId);
    await a.settled();
    expect(a.keeper.job(jobId)?.head.says).toBe('Done again: Wire set to B20');
    expect(a.keeper.job(jobId)?.draft.wire).toBe('B20');
  });

  it('joins changes of different fields by itself', async () => {
    const { server, a, jobId } = await start();
    await a.round();
    const b = await Device.open('Device B', server, new Numbers(2));
    await b.round();
    a.actions.editJob(jobId, 'Wire set to B20', (draft) => ({ ...draft, wire: 'B20' }));
    b.actions.editJob(jobId, 'Quantity set to 4', (draft) => ({ ...draft, quantity: 4 }));
    await a.settled();
    await b.settled();
    await a.round();
    await b.round();
    await a.round();
    for (const device of [a, b]) {
      expect(device.keeper.job(jobId)?.draft).toMatchObject({ wire: 'B20', quantity: 4 });
      expect(device.keeper.job(jobId)?.conflict).toBeNull();
      expect(device.keeper.job(jobId)?.saved).toBe('saved');
    }
    expect(a.keeper.job(jobId)?.head.says).toBe('Joined with Wire from Device A');
    expect(a.keeper.job(jobId)?.head.parents).toHaveLength(2);
  });

  it('shows a clash on both devices and keeps both sides when it is settled', async () => {
    const { server, a, jobId } = await start();
    await a.round();
    const b = await Device.open('Device B', server, new Numbers(2));
    await b.round();
    a.actions.editJob(jobId, 'Height set to 4', (draft) => ({ ...draft, heightMm: 4 }));
    b.actions.editJob(jobId, 'Height set to 5', (draft) => ({ ...draft, heightMm: 5 }));
    await a.settled();
    await b.settled();
    await a.round();
    await b.round();
    await a.round();
    const height = { field: 'heightMm', label: 'Height' };
    expect(b.keeper.job(jobId)?.conflict?.differences).toEqual([{ ...height, mine: '5 mm', theirs: '4 mm' }]);
    expect(a.keeper.job(jobId)?.conflict?.differences).toEqual([{ ...height, mine: '4 mm', theirs: '5 mm' }]);
    expect(b.keeper.job(jobId)?.saved).toBe('saved');
    b.actions.settle(jobId, 'mine');
    await b.settled();
    expect(b.keeper.job(jobId)?.conflict).toBeNull();
    await b.round();
    await a.round();
    for (const device of [a, b]) {
      expect(device.keeper.job(jobId)?.draft.heightMm).toBe(5);
      expect(device.keeper.job(jobId)?.conflict).toBeNull();
    }
    expect((await server.history(jobId)).revisions).toHaveLength(4);
  });

  it('sends the file first and holds nothing back when the server was away', async () => {
    const server = new FakeServer(STORE);
    let isAway = true;
    const flaky = new Proxy(server, {
      get(target, name, receiver) {
        const value: unknown = Reflect.get(target, name, receiver);
        if (typeof value !== 'function') return value;
        return (...args: unknown[]) => {
          if (isAway) throw new ServerAway('away');
          return Reflect.apply(value, target, args);
        };
      },
    });
    const a = await Device.open('Device A', flaky, new Numbers(1));
    const bytes = new TextEncoder().encode('0\nEOF\n');
    const jobId = await a.actions.createJob({ draft: {}, drawing: { fileName: 'a.dxf', bytes }, says: 'Started' });
    await expect(a.round()).rejects.toBeInstanceOf(ServerAway);
    expect(a.keeper.job(jobId)?.saved).toBe('kept on this device');
    isAway = false;
    await a.round();
    expect(a.keeper.job(jobId)?.saved).toBe('saved');
    expect(server.files.size).toBe(1);
  });
});
