import fc from 'fast-check';
import { expect, it } from 'vitest';
import { isMadeFrom } from './ancestry.js';
import { isSame } from './fields.js';
import { MemoryStorage } from './memory-storage.js';
import { ServerAway } from './server-api.js';
import { Device, Numbers, TestTabs } from './testing/device.js';
import { FakeServer } from './testing/fake-server.js';
import { FATES, RoughNetwork } from './testing/rough-network.js';

/** Two tabs of one browser and two other browsers. */
const TABS = 4;
/** Rounds after which everybody must agree once the network is well; each conflict settled makes one more. */
const MOST_ROUNDS = 60;

const FIELDS = ['wire', 'machine', 'material', 'notes'] as const;
const tab = fc.nat(TABS - 1);
const happening = fc.oneof(
  { weight: 6, arbitrary: fc.record({ is: fc.constant('edit' as const), tab, field: fc.constantFrom(...FIELDS) }) },
  { weight: 2, arbitrary: fc.record({ is: fc.constantFrom('undo' as const, 'redo' as const), tab }) },
  {
    weight: 1,
    arbitrary: fc.record({
      is: fc.constant('settle' as const),
      tab,
      keep: fc.constantFrom('mine' as const, 'theirs' as const),
    }),
  },
  { weight: 1, arbitrary: fc.record({ is: fc.constantFrom('drawing' as const, 'reload' as const), tab }) },
  {
    weight: 5,
    arbitrary: fc.record({
      is: fc.constant('round' as const),
      tab,
      fates: fc.array(fc.constantFrom(...FATES), { maxLength: 5 }),
    }),
  },
  { weight: 1, arbitrary: fc.record({ is: fc.constant('late' as const) }) },
);

async function workshop() {
  const server = new FakeServer('00000000-0000-4000-8000-00000000aaaa', 2);
  const network = new RoughNetwork(server);
  const shared = { storage: new MemoryStorage(true), tabs: [] as TestTabs[] };
  const places = Array.from({ length: TABS }, (_, index) => ({
    name: index < 2 ? 'A' : `B${index}`,
    storage: index < 2 ? shared.storage : new MemoryStorage(true),
    browser: index < 2 ? shared.tabs : [],
    numbers: new Numbers(index + 1),
    api: network.api(),
  }));
  const open = (index: number): Promise<Device> => {
    const place = places[index] as (typeof places)[number];
    return Device.open(place.name, place.api, place.numbers, place.storage, new TestTabs(place.browser));
  };
  const tabs = await Promise.all(places.map((_, index) => open(index)));
  return { server, network, tabs, open };
}

/** What a tab shows is always made from what it showed before. */
async function goesForward(tabs: readonly Device[], jobId: string, heads: string[], server: FakeServer): Promise<void> {
  const known = new Map([...(server.jobs.get(jobId)?.revisions ?? [])].map(([id, { revision }]) => [id, revision]));
  for (const device of tabs) {
    for (const row of await device.keeper.read((tx) => tx.revisionsOf(jobId))) known.set(row.id, row.revision);
  }
  for (const [index, device] of tabs.entries()) {
    const head = device.keeper.job(jobId)?.head.id ?? '';
    expect(isMadeFrom(head, heads[index] ?? '', known), `tab ${index} went back`).toBe(true);
    heads[index] = head;
  }
}

const away = (error: unknown): void => {
  if (!(error instanceof ServerAway)) throw error;
};

it('loses nothing and comes to one state on a network that loses, delays, repeats and mixes up', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(happening, { minLength: 5, maxLength: 40 }), async (happenings) => {
      const { server, network, tabs, open } = await workshop();
      const at = (index: number): Device => tabs[index] as Device;
      const jobId = await at(0).actions.createJob({ draft: { title: 'Plate' }, drawing: null, says: 'Started' });
      for (const device of tabs) await device.round();
      const heads = tabs.map((each) => each.keeper.job(jobId)?.head.id ?? '');
      const made: { field: string; value: string }[] = [];

      for (const [step, event] of happenings.entries()) {
        if (event.is === 'late') {
          await network.deliverLate();
          continue;
        }
        const device = at(event.tab);
        const value = `value ${step}`;
        if (event.is === 'edit') {
          const { field } = event;
          device.actions.editJob(jobId, `${field} set to ${value}`, (draft) => ({ ...draft, [field]: value }));
          made.push({ field, value });
        } else if (event.is === 'undo' || event.is === 'redo') device.actions[event.is](jobId);
        else if (event.is === 'settle') device.actions.settle(jobId, event.keep);
        else if (event.is === 'drawing') {
          await device.actions.setDrawing(jobId, `${step}.dxf`, new TextEncoder().encode(value));
        } else if (event.is === 'reload') {
          await device.settled();
          tabs[event.tab] = await open(event.tab);
        } else if (event.is === 'round') {
          await device.settled();
          network.meet(event.fates);
          await device.round().catch(away);
        }
        await device.settled();
        await goesForward(tabs, jobId, heads, server);
        for (const held of tabs.map((each) => each.keeper.job(jobId))) {
          if (held?.saved === 'saved') expect(server.jobs.get(jobId)?.revisions.has(held.head.id)).toBe(true);
        }
      }

      await network.heal();
      for (let round = 0; round < MOST_ROUNDS; round += 1) {
        for (const device of tabs) {
          await device.round();
          const conflict = device.keeper.job(jobId)?.conflict ?? null;
          if (conflict !== null && device === at(0)) device.actions.settle(jobId, 'theirs');
          await device.settled();
        }
        const heads = new Set(tabs.map((device) => device.keeper.job(jobId)?.head.id));
        if (heads.size === 1 && tabs.every((device) => device.keeper.job(jobId)?.conflict === null)) break;
      }

      const kept = server.jobs.get(jobId);
      const states = [...(kept?.revisions.values() ?? [])].map((each) => each.revision);
      for (const device of tabs) {
        const held = device.keeper.job(jobId);
        expect(held).toMatchObject({ saved: 'saved', conflict: null });
        expect(held?.head.id).toBe(kept?.headId);
        expect(await device.keeper.read((tx) => tx.all('outbox'))).toEqual([]);
        for (const row of await device.keeper.read((tx) => tx.revisionsOf(jobId))) {
          const there = kept?.revisions.get(row.id)?.revision;
          expect(there !== undefined && isSame(there, row.revision), `revision ${row.revision.says}`).toBe(true);
        }
      }
      for (const { field, value } of made) {
        expect(
          states.some((revision) => revision.content[field] === value),
          `${field} ${value}`,
        ).toBe(true);
      }
      expect(kept?.asideIds.size).toBe(0);
    }),
    { numRuns: 100 },
  );
});
