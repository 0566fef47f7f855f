import { describe, expect, it } from 'vitest';
import { MemoryStorage } from './memory-storage.js';
import { ServerRefused } from './server-api.js';
import { KeepingSession } from './session.js';
import type { Storage, Transaction } from './storage.js';
import { Device, Numbers, TestTabs, testBooks } from './testing/device.js';
import { FakeServer } from './testing/fake-server.js';
import { RoughNetwork } from './testing/rough-network.js';
import { View } from './view.js';

const STORE = '00000000-0000-4000-8000-00000000aaaa';
const OTHER = '00000000-0000-4000-8000-00000000bbbb';

/** A disk that can be full. */
class SmallDisk implements Storage {
  readonly isDurable = true;
  readonly #disk = new MemoryStorage(true);
  isFull = false;
  read = <T>(work: (tx: Transaction) => Promise<T>): Promise<T> => this.#disk.read(work);
  write = async <T>(work: (tx: Transaction) => Promise<T>): Promise<T> => {
    if (this.isFull) throw new DOMException('no room', 'QuotaExceededError');
    return this.#disk.write(work);
  };
  close(): void {}
}

async function openSession(server: FakeServer, storage: Storage, node = 9) {
  const numbers = new Numbers(node);
  const tools = {
    startingBooks: await testBooks(),
    deviceName: () => 'Device A',
    now: numbers.now,
    newId: numbers.newId,
  };
  const session = await KeepingSession.open({ ...tools, storage, tabs: new TestTabs() }, server);
  /** A round with the server; the double makes no papers, so the question itself is refused after it. */
  const round = (): Promise<unknown> =>
    session.actions.paperPages({} as Parameters<typeof session.actions.paperPages>[0]).catch((error: unknown) => {
      if (!(error instanceof ServerRefused)) throw error;
    });
  return { session, round, keeper: session.keeper, actions: session.actions };
}

const start = {
  draft: { title: 'Plate' },
  drawing: { fileName: 'a.dxf', bytes: new Uint8Array([1, 2]) },
  says: 'Started',
};

describe('a full disk', () => {
  it('is said, nothing is called kept, and everything is written once there is room', async () => {
    const disk = new SmallDisk();
    const device = await Device.open('Device A', new FakeServer(STORE), new Numbers(1), disk);
    const jobId = await device.actions.createJob(start);
    disk.isFull = true;
    device.actions.editJob(jobId, 'Wire set to B20', (draft) => ({ ...draft, wire: 'B20' }));
    await expect.poll(() => device.keeper.notices.all().map((notice) => notice.id)).toEqual(['not-kept']);
    expect(device.keeper.notices.all()[0]?.says).toContain('no room left');
    expect(device.keeper.job(jobId)).toMatchObject({ saved: 'saving', draft: { wire: 'B20' } });
    disk.isFull = false;
    device.actions.editJob(jobId, 'Quantity set to 2', (draft) => ({ ...draft, quantity: 2 }));
    await device.settled();
    expect(device.keeper.notices.all()).toEqual([]);
    expect(device.keeper.job(jobId)).toMatchObject({
      saved: 'kept on this device',
      draft: { wire: 'B20', quantity: 2 },
    });
  });
});

describe('a server with another store', () => {
  it('gets nothing until the planner says so, and then everything', async () => {
    const storage = new MemoryStorage(true);
    const first = new FakeServer(STORE);
    const before = await openSession(first, storage);
    const jobId = await before.actions.createJob(start);
    await before.actions.addBurns([burn(10)]);
    await before.round();
    expect(before.keeper.job(jobId)?.saved).toBe('saved');

    const second = new FakeServer(OTHER);
    const after = await openSession(second, storage, 10);
    after.actions.editJob(jobId, 'Wire set to B20', (draft) => ({ ...draft, wire: 'B20' }));
    await after.round();
    expect(second.jobs.size + second.burns.size + second.files.size).toBe(0);
    const [notice] = after.keeper.notices.all();
    expect(notice?.choices.map((choice) => choice.label)).toEqual(['Send mine to this store', 'Set mine aside']);
    notice?.choices[0]?.choose();
    await expect.poll(() => after.keeper.notices.all()).toEqual([]);
    await after.round();
    expect(after.keeper.job(jobId)).toMatchObject({ saved: 'saved', draft: { wire: 'B20' } });
    expect(second.jobs.get(jobId)?.revisions.size).toBe(2);
    expect(second.burns.size).toBe(1);
    expect(second.files.size).toBe(1);
  });

  it('leaves what is set aside on the device, to be taken back in', async () => {
    const storage = new MemoryStorage(true);
    const before = await openSession(new FakeServer(STORE), storage);
    const jobId = await before.actions.createJob(start);
    await before.actions.saveBook('shop-book', { of: 'mine' }, 'Rates of 2026');
    await before.round();
    const second = new FakeServer(OTHER);
    const after = await openSession(second, storage, 10);
    await after.round();
    after.keeper.notices.all()[0]?.choices[1]?.choose();
    await expect.poll(() => after.keeper.snapshot().jobs).toEqual([]);
    await after.round();
    expect(second.jobs.size).toBe(0);
    const [aside] = await after.actions.setAsides();
    await after.actions.importAll(aside?.file as Blob);
    await after.round();
    expect(after.keeper.job(jobId)).toMatchObject({ saved: 'saved', draft: { title: 'Plate' } });
    expect(second.jobs.get(jobId)?.headId).toBe(after.keeper.job(jobId)?.head.id);
    expect([...second.books.values()].map((book) => book.version.says)).toContain('Rates of 2026');
  });
});

describe('a server brought back from an earlier copy', () => {
  it('gets again what it lost', async () => {
    const server = new FakeServer(STORE);
    const storage = new MemoryStorage(true);
    const { actions, keeper, round } = await openSession(server, storage);
    const jobId = await actions.createJob(start);
    actions.editJob(jobId, 'Wire set to B20', (draft) => ({ ...draft, wire: 'B20' }));
    await round();
    server.jobs.clear();
    server.files.clear();
    server.sequence = 0;
    await round();
    expect(server.jobs.get(jobId)?.revisions.size).toBe(2);
    expect(keeper.job(jobId)).toMatchObject({ saved: 'saved', draft: { wire: 'B20' } });
  });
});

describe('a refused state', () => {
  it('does not hold back what was made on top of it', async () => {
    const server = new FakeServer(STORE);
    const put = server.putRevision.bind(server);
    server.putRevision = async (revision) => {
      if (revision.content.heightMm === -1) throw new ServerRefused('JOB-BAD-FIELD', 'heightMm must be above 0.', 422);
      return put(revision);
    };
    const device = await Device.open('Device A', server, new Numbers(1));
    const jobId = await device.actions.createJob(start);
    device.actions.editJob(jobId, 'Height set to -1', (draft) => ({ ...draft, heightMm: -1 }));
    await device.settled();
    await device.round();
    expect(device.keeper.job(jobId)?.saved).toBe('kept on this device');
    device.actions.editJob(jobId, 'Height set to 4', (draft) => ({ ...draft, heightMm: 4 }));
    await device.settled();
    await device.round();
    expect(device.keeper.job(jobId)).toMatchObject({ saved: 'saved', draft: { heightMm: 4 } });
    const says = (await device.actions.history(jobId)).revisions.map((revision) => revision.says);
    expect(says).toContain('Height set to -1');
  });
});

describe('books and burns', () => {
  it('keeps two versions made from one, uses the one the server uses, and brings the other back', async () => {
    const server = new FakeServer(STORE);
    const a = await openSession(server, new MemoryStorage(true), 1);
    const b = await openSession(server, new MemoryStorage(true), 2);
    await a.actions.saveBook('shop-book', { rate: 1 }, 'First rates');
    await a.round();
    await b.round();
    await a.actions.saveBook('shop-book', { rate: 2 }, 'Rates of A');
    await b.actions.saveBook('shop-book', { rate: 3 }, 'Rates of B');
    expect(b.keeper.snapshot().books['shop-book']).toMatchObject({ json: { rate: 3 }, saved: 'kept on this device' });
    await a.round();
    await b.round();
    expect(b.keeper.snapshot().books['shop-book']).toMatchObject({ json: { rate: 2 }, saved: 'saved' });
    const [notice] = b.keeper.notices.all();
    expect(notice?.says).toContain('Rates of B');
    notice?.choices[0]?.choose();
    await expect.poll(() => b.keeper.snapshot().books['shop-book'].json).toEqual({ rate: 3 });
    await b.round();
    await a.round();
    expect(a.keeper.snapshot().books['shop-book']).toMatchObject({ json: { rate: 3 }, saved: 'saved' });
    expect(a.keeper.notices.all()).toEqual([]);
    expect(a.keeper.snapshot().versions['shop-book'].filter((version) => version.isCurrent)).toHaveLength(1);
  });

  it('counts a burn once, however often it was corrected', async () => {
    const { actions, keeper } = await openSession(new FakeServer(STORE), new MemoryStorage(true));
    await actions.addBurns([burn(10), burn(20)]);
    const first = keeper.snapshot().burns.find((entry) => entry.content?.actualMin === 10)?.id as string;
    await actions.correctBurn(first, burn(11));
    const inUse = (): unknown[] =>
      keeper
        .snapshot()
        .burns.filter((entry) => entry.isInUse && entry.content)
        .map((entry) => entry.content?.actualMin);
    expect(inUse()).toEqual([11, 20]);
    await actions.strikeBurn(keeper.snapshot().burns[0]?.id as string);
    expect(inUse()).toEqual([20]);
  });
});

it('renders only what was read', async () => {
  const { actions, keeper, session } = await openSession(new FakeServer(STORE), new MemoryStorage(true));
  const one = await actions.createJob(start);
  const two = await actions.createJob(start);
  const sheet = new View(session, null);
  const desk = new View(session, null);
  sheet.keeping.job(one);
  expect(desk.keeping.jobs).toHaveLength(2);
  const other = keeper.job(two);
  actions.editJob(two, 'Wire set to B20', (draft) => ({ ...draft, wire: 'B20' }));
  expect(sheet.isCurrent()).toBe(true);
  expect(desk.isCurrent()).toBe(false);
  expect(keeper.job(two)).not.toBe(other);
  actions.editJob(one, 'Wire set to B20', (draft) => ({ ...draft, wire: 'B20' }));
  expect(sheet.isCurrent()).toBe(false);
  expect(new View(session, sheet).isCurrent()).toBe(true);
  await keeper.inLine(async () => undefined);
});

it('sends an edit again whose answer was lost, and it is there once', async () => {
  const network = new RoughNetwork(new FakeServer(STORE));
  const device = await Device.open('Device A', network.api(), new Numbers(1));
  const jobId = await device.actions.createJob(start);
  network.meet(['arrives', 'answer lost']);
  await expect(device.round()).rejects.toThrow('the answer was lost');
  expect(device.keeper.job(jobId)?.saved).toBe('kept on this device');
  await device.round();
  expect(device.keeper.job(jobId)?.saved).toBe('saved');
  expect(network.server.jobs.get(jobId)?.revisions.size).toBe(1);
});

function burn(actualMin: number) {
  return {
    day: '2026-01-05',
    material: 'D2',
    machine: 'W1',
    wire: 'B25',
    heightMm: 20,
    level: 1,
    predictedMin: 12,
    actualMin,
    jobId: null,
    operation: null,
    note: '',
  };
}
