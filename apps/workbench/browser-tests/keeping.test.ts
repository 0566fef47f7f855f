import { join } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { build, type Rolldown } from 'vite';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, root, Workbench } from './harness.js';
import type {} from './keeping-page.js';

const ADDRESS = '/keeping-test/';
const PAGE = `<!doctype html><title>Keeping</title><script type="module" src="${ADDRESS}keeping.js"></script>`;
const FIRST_DEVICE = 'Device A';
/** The page tries a server that was away again after at most 8 s. */
const BACK_WITHIN_MS = 30_000;

let browser: Browser;
let workbench: Workbench;
let scripts: ReadonlyMap<string, string>;

beforeAll(async () => {
  const built = (await build({
    configFile: false,
    root: join(root, 'apps/workbench'),
    resolve: { conditions: ['gapwright-source', 'module', 'browser', 'development|production'] },
    logLevel: 'error',
    build: {
      write: false,
      minify: false,
      target: 'es2023',
      lib: {
        entry: join(root, 'apps/workbench/browser-tests/keeping-page.ts'),
        formats: ['es'],
        fileName: () => 'keeping.js',
      },
    },
  })) as Rolldown.RolldownOutput[];
  const chunks = built.flatMap(({ output }) => output).filter((part) => part.type === 'chunk');
  scripts = new Map(chunks.map((chunk) => [chunk.fileName, chunk.code]));
  browser = await openBrowser();
  workbench = await Workbench.start();
}, 120_000);

afterAll(async () => {
  await browser?.close();
  await workbench?.close();
});

/** Keeping alone on the server's own address, so that the database and the API are those of the page. */
async function openTab(context: BrowserContext, deviceName: string): Promise<Page> {
  const page = await context.newPage();
  await page.route(`**${ADDRESS}**`, (route) => {
    const name = new URL(route.request().url()).pathname.slice(ADDRESS.length);
    const script = scripts.get(name);
    return script === undefined
      ? route.fulfill({ contentType: 'text/html', body: PAGE })
      : route.fulfill({ contentType: 'text/javascript', body: script });
  });
  await page.goto(`${workbench.address}${ADDRESS}`, { waitUntil: 'load' });
  await page.evaluate((name) => globalThis.openKeeping(name), deviceName);
  return page;
}

async function newJob(page: Page): Promise<string> {
  return page.evaluate(() =>
    globalThis.keeping.actions.createJob({
      draft: { title: 'Plate' },
      drawing: { fileName: 'plate.dxf', bytes: new TextEncoder().encode('0\nEOF\n') },
      says: 'Started from plate.dxf',
    }),
  );
}

const edit = (page: Page, jobId: string, field: 'notes' | 'wire' | 'machine', value: string): Promise<void> =>
  page.evaluate(
    ([id, name, text]) => {
      globalThis.keeping.actions.editJob(id as string, `${name} set to ${text}`, (draft) => ({
        ...draft,
        [name as string]: text,
      }));
    },
    [jobId, field, value],
  );

const stateOf = (page: Page, jobId: string) =>
  page.evaluate((id) => {
    const job = globalThis.keeping.keeper.job(id);
    if (job === undefined) return null;
    const { saved, draft, conflict, head } = job;
    return { saved, draft, says: head.says, conflict: conflict?.differences ?? null };
  }, jobId);

/** Waits for the state to be as wanted, and fails with what it was. */
async function wantState(page: Page, jobId: string, wanted: object): Promise<void> {
  await expect.poll(() => stateOf(page, jobId), { timeout: BACK_WITHIN_MS, interval: 100 }).toMatchObject(wanted);
}

async function onServer(jobId: string): Promise<{ content: Record<string, unknown>; says: string }[]> {
  const response = await fetch(`${workbench.address}/api/jobs/${jobId}`);
  return ((await response.json()) as { revisions: { content: Record<string, unknown>; says: string }[] }).revisions;
}

it('saves, and shows the same after a reload and after the tab was closed', async () => {
  const context = await browser.newContext();
  const page = await openTab(context, FIRST_DEVICE);
  const jobId = await newJob(page);
  await wantState(page, jobId, { saved: 'saved' });
  await edit(page, jobId, 'wire', 'B20');
  await wantState(page, jobId, { saved: 'saved', draft: { wire: 'B20' } });
  expect((await onServer(jobId)).map((revision) => revision.says)).toEqual([
    'wire set to B20',
    'Started from plate.dxf',
  ]);
  await page.close({ runBeforeUnload: false });
  const again = await openTab(context, FIRST_DEVICE);
  await wantState(again, jobId, { saved: 'saved', draft: { wire: 'B20' } });
  await again.evaluate((id) => globalThis.keeping.actions.undo(id), jobId);
  await wantState(again, jobId, { saved: 'saved', says: 'Undone: wire set to B20' });
  expect((await stateOf(again, jobId))?.draft.wire).toBeUndefined();
  expect((await onServer(jobId))[0]?.says).toBe('Undone: wire set to B20');
  await context.close();
});

it('loses nothing that was called saved or kept when the server is killed while the planner types', async () => {
  const context = await browser.newContext();
  let page = await openTab(context, FIRST_DEVICE);
  const jobId = await newJob(page);
  await wantState(page, jobId, { saved: 'saved' });
  const saved: string[] = [];
  let typed = 0;
  for (let kill = 0; kill < 2; kill += 1) {
    const killing = new Promise((resolve) => setTimeout(resolve, 120)).then(() => workbench.kill());
    for (let key = 0; key < 12; key += 1) {
      typed += 1;
      await edit(page, jobId, 'notes', `note ${typed}`);
      const state = await stateOf(page, jobId);
      if (state?.saved === 'saved') saved.push(state.draft.notes as string);
    }
    await killing;
    typed += 1;
    await edit(page, jobId, 'machine', `machine ${typed}`);
    await wantState(page, jobId, { saved: 'kept on this device' });
    // The tab dies too while nothing answers; the page itself comes from the test.
    await page.close();
    page = await openTab(context, FIRST_DEVICE);
    await wantState(page, jobId, {
      saved: 'kept on this device',
      draft: { notes: `note ${typed - 1}`, machine: `machine ${typed}` },
    });
    await workbench.up();
    await wantState(page, jobId, {
      saved: 'saved',
      draft: { notes: `note ${typed - 1}`, machine: `machine ${typed}` },
    });
  }
  const revisions = await onServer(jobId);
  expect(revisions[0]?.content).toMatchObject({ notes: `note ${typed - 1}`, machine: `machine ${typed}` });
  for (const note of saved)
    expect(
      revisions.some((revision) => revision.content.notes === note),
      note,
    ).toBe(true);
  await context.close();
});

it('keeps both edits when two tabs of one browser work on one job', async () => {
  const context = await browser.newContext();
  const one = await openTab(context, FIRST_DEVICE);
  const jobId = await newJob(one);
  const two = await openTab(context, FIRST_DEVICE);
  await wantState(two, jobId, { draft: { title: 'Plate' } });
  await Promise.all([
    ...Array.from({ length: 10 }, (_, index) => edit(one, jobId, 'wire', `wire ${index}`)),
    ...Array.from({ length: 10 }, (_, index) => edit(two, jobId, 'machine', `machine ${index}`)),
  ]);
  for (const page of [one, two]) {
    await wantState(page, jobId, { saved: 'saved', conflict: null, draft: { wire: 'wire 9', machine: 'machine 9' } });
  }
  // One line of history: the second edit was made on the first, whichever tab it came from.
  const revisions = (await onServer(jobId)) as unknown as { parents: string[]; standing: string }[];
  expect(revisions.every((revision) => revision.parents.length <= 1)).toBe(true);
  expect(revisions.filter((revision) => revision.standing === 'aside')).toEqual([]);
  // The tab that sends is closed; the other takes over.
  await one.close();
  await edit(two, jobId, 'wire', 'B25');
  await wantState(two, jobId, { saved: 'saved', draft: { wire: 'B25' } });
  await context.close();
});

it('joins what two browsers changed apart and shows what clashes', async () => {
  const first = await browser.newContext();
  const second = await browser.newContext();
  const one = await openTab(first, FIRST_DEVICE);
  const jobId = await newJob(one);
  await wantState(one, jobId, { saved: 'saved' });
  const two = await openTab(second, 'Device B');
  await wantState(two, jobId, { saved: 'saved' });

  await workbench.kill();
  await edit(one, jobId, 'wire', 'B20');
  await edit(two, jobId, 'machine', 'Mill 4');
  await workbench.up();
  for (const page of [one, two]) {
    await wantState(page, jobId, { saved: 'saved', conflict: null, draft: { wire: 'B20', machine: 'Mill 4' } });
  }

  await workbench.kill();
  await edit(one, jobId, 'wire', 'B25');
  await edit(two, jobId, 'wire', 'B10');
  await workbench.up();
  for (const [page, mine, theirs] of [
    [one, 'B25', 'B10'],
    [two, 'B10', 'B25'],
  ] as const) {
    await wantState(page, jobId, { saved: 'saved', conflict: [{ label: 'Wire', mine, theirs }] });
  }
  await one.evaluate((id) => globalThis.keeping.actions.settle(id, 'theirs'), jobId);
  for (const page of [one, two])
    await wantState(page, jobId, { saved: 'saved', conflict: null, draft: { wire: 'B10' } });
  const wires = (await onServer(jobId)).map((revision) => revision.content.wire);
  expect(wires).toEqual(expect.arrayContaining(['B10', 'B25', 'B20']));
  await first.close();
  await second.close();
});
