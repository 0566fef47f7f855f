import type { Revision } from '@gapwright/records';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { openStore } from './open-store.js';
import type { Store } from './store.js';
import { bookOf, burnOf, hashOf, idOf, JOB, revisionOf } from './testing/records.js';

/** What a device does next; each knows the job as it last saw it and sends when it likes. */
type Step =
  | { readonly does: 'edit' | 'send' | 'look' | 'send again'; readonly device: number }
  | { readonly does: 'settle'; readonly device: number; readonly which: number };

const device = fc.nat(3);
const step: fc.Arbitrary<Step> = fc.oneof(
  { weight: 5, arbitrary: fc.record({ does: fc.constant('edit' as const), device }) },
  { weight: 4, arbitrary: fc.record({ does: fc.constant('send' as const), device }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('look' as const), device }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant('send again' as const), device }) },
  { weight: 2, arbitrary: fc.record({ does: fc.constant('settle' as const), device, which: fc.nat(3) }) },
);

class Device {
  base = idOf(1);
  readonly outbox: Revision[] = [];
  readonly sent: Revision[] = [];

  constructor(
    private readonly name: number,
    private readonly store: Store,
    private readonly nextId: () => string,
  ) {}

  make(parents: readonly string[]): void {
    const id = this.nextId();
    this.outbox.push(revisionOf(id, parents, { madeBy: `Device ${this.name}`, content: { made: id } }));
    this.base = id;
  }

  async send(): Promise<void> {
    for (const revision of this.outbox.splice(0)) {
      const { value, problems } = await this.store.keepRevision(revision);
      expect(problems).toEqual([]);
      expect(value!.saved.id).toBe(revision.id);
      this.sent.push(revision);
    }
  }
}

async function play(store: Store, steps: readonly Step[]): Promise<Revision[]> {
  let count = 1;
  const first = revisionOf(idOf(1), []);
  await store.keepRevision(first);
  const devices = [0, 1, 2, 3].map((name) => new Device(name, store, () => idOf(++count)));
  for (const next of steps) {
    const actor = devices[next.device]!;
    switch (next.does) {
      case 'edit':
        actor.make([actor.base]);
        break;
      case 'send':
        await actor.send();
        break;
      case 'send again': {
        const before = await store.sequence();
        for (const revision of actor.sent) await store.keepRevision(revision);
        expect(await store.sequence()).toBe(before);
        break;
      }
      case 'look':
        if (actor.outbox.length === 0) actor.base = (await store.job(JOB))!.summary.head.id;
        break;
      case 'settle': {
        await actor.send();
        const { head, asides } = (await store.job(JOB))!.summary;
        const aside = asides[next.which % Math.max(1, asides.length)];
        if (aside !== undefined) actor.make([head.id, aside.id]);
        break;
      }
    }
  }
  for (const actor of devices) await actor.send();
  return [first, ...devices.flatMap((actor) => actor.sent)];
}

test('whatever devices do in whatever order: one head, nothing lost, every aside listed until it is settled', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 1, maxLength: 40 }), async (steps) => {
      const store = (await openStore({ file: ':memory:' })).value!;
      try {
        const sent = await play(store, steps);
        const { summary, revisions } = (await store.job(JOB))!;
        // Nothing is lost, changed or invented.
        expect(revisions).toHaveLength(sent.length);
        for (const revision of sent) expect(revisions.find((r) => r.id === revision.id)).toMatchObject(revision);
        expect(summary.revisionCount).toBe(sent.length);
        // The head and the asides are exactly what nothing was made on.
        const parents = new Set(sent.flatMap((r) => r.parents));
        const tips = sent.filter((r) => !parents.has(r.id)).map((r) => r.id);
        expect([summary.head.id, ...summary.asides.map((r) => r.id)].sort()).toEqual(tips.sort());
        expect(revisions.filter((r) => r.standing === 'head').map((r) => r.id)).toEqual([summary.head.id]);
        expect(revisions.filter((r) => r.standing === 'aside')).toHaveLength(summary.asides.length);
        // A reader that asks in small pieces ends with the same.
        expect(await jobsInPieces(store)).toEqual([summary]);
        // Settling what is listed leaves one head and no aside.
        let id = 10_000;
        for (const aside of summary.asides) {
          const { head } = (await store.job(JOB))!.summary;
          await store.keepRevision(revisionOf(idOf(++id), [head.id, aside.id]));
        }
        expect((await store.job(JOB))!.summary.asides).toEqual([]);
        expect(await store.faults()).toEqual([]);
      } finally {
        await store.close();
      }
    }),
    { numRuns: 60 },
  );
});

async function jobsInPieces(store: Store): Promise<unknown[]> {
  const jobs: unknown[] = [];
  let after = 0;
  for (;;) {
    const changes = await store.changes(after, 3);
    jobs.push(...changes.jobs);
    after = changes.sequence;
    if (!changes.more) return jobs;
  }
}

test('burns corrected in any order: one entry of each chain counts, and every entry stays', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(fc.option(fc.nat(20), { nil: null }), { minLength: 1, maxLength: 20 }), async (links) => {
      const store = (await openStore({ file: ':memory:' })).value!;
      try {
        const roots: number[] = [];
        for (const [k, link] of links.entries()) {
          const replaced = link === null || k === 0 ? null : link % k;
          roots.push(replaced === null ? k : roots[replaced]!);
          await store.keepBurn(burnOf(idOf(k), { replaces: replaced === null ? null : idOf(replaced) }));
        }
        const { burns } = await store.changes(0);
        expect(burns).toHaveLength(links.length);
        const last = new Map(roots.map((root, k) => [root, k]));
        expect(burns.filter((b) => b.isInUse).map((b) => b.id)).toEqual(
          [...last.values()].sort((a, b) => a - b).map(idOf),
        );
      } finally {
        await store.close();
      }
    }),
    { numRuns: 40 },
  );
});

test('books made from any version: one is in use, each made from the one before it in use, and every text stays', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(fc.tuple(fc.nat(30), fc.nat(5)), { minLength: 1, maxLength: 20 }), async (edits) => {
      const store = (await openStore({ file: ':memory:' })).value!;
      try {
        await store.keepBook(bookOf('"start"', null), '"start"');
        const texts = ['"start"'];
        let inUse = hashOf('"start"');
        for (const [from, to] of edits) {
          const text = `"text ${to}"`;
          const parent = hashOf(texts[from % texts.length]!);
          const { value } = await store.keepBook(bookOf(text, parent, { madeBy: `Device ${from}` }), text);
          if (parent === inUse) inUse = hashOf(text);
          expect(value!.sha256).toBe(hashOf(text));
          texts.push(text);
          const current = (await store.books('shop-book')).filter((v) => v.isCurrent);
          expect(current.map((v) => v.sha256)).toEqual([inUse]);
        }
        for (const text of texts) expect(await store.bookText('shop-book', hashOf(text))).toBe(text);
      } finally {
        await store.close();
      }
    }),
    { numRuns: 40 },
  );
});
