import { join } from 'node:path';
import Database from 'better-sqlite3';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, openPage, Workbench } from './harness.js';
import { dropPlate } from './sheet-steps.js';

const KILLS = 50;
const LONGEST_BEFORE_KILL_MS = 220;
/** The page tries a server that was away again after at most 8 s. */
const SAVED_WITHIN_MS = 30_000;
const SEED = 20_041;

let browser: Browser;
let workbench: Workbench;

beforeAll(async () => {
  browser = await openBrowser();
  workbench = await Workbench.start();
});

afterAll(async () => {
  await browser?.close();
  await workbench?.close();
});

/** Evenly spread numbers from 0 to 1, the same ones every time (a linear congruence modulo 2^32). */
function spread(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

async function setPieces(page: Page, pieces: number): Promise<void> {
  const box = page.getByRole('textbox', { name: 'Quantity' });
  await box.fill(String(pieces));
  await box.press('Enter');
}

interface SeenHistory {
  readonly revisions: readonly {
    readonly id: string;
    readonly standing: string;
    readonly content: { readonly quantity?: number };
    readonly parents: readonly string[];
  }[];
}

it(`loses no acknowledged save when the server is killed ${KILLS} times while the page saves`, async () => {
  const { page, context, faults } = await openPage(browser, workbench);
  const acknowledged = new Set<string>();
  page.on('response', (answer) => {
    const id = /\/api\/revisions\/([^/?]+)$/.exec(answer.url())?.[1];
    if (id !== undefined && answer.request().method() === 'PUT' && answer.status() === 200) acknowledged.add(id);
  });
  await dropPlate(page);
  const jobId = new URL(page.url()).pathname.split('/').at(-1)!;
  const keeping = page.getByRole('banner').getByRole('status');
  const next = spread(SEED);
  let pieces = 0;
  for (let kill = 0; kill < KILLS; kill += 1) {
    const before = acknowledged.size;
    let isDead = false;
    // From the next acknowledged save on, at a moment that falls before, in or after one of the following ones.
    const killing = (async () => {
      await expect.poll(() => acknowledged.size, { timeout: SAVED_WITHIN_MS, interval: 5 }).toBeGreaterThan(before);
      await new Promise((resolve) => setTimeout(resolve, next() * LONGEST_BEFORE_KILL_MS));
      await workbench.kill();
      isDead = true;
    })();
    while (!isDead) {
      pieces += 1;
      await setPieces(page, pieces);
    }
    await killing;
    // One more while nothing answers.
    pieces += 1;
    await setPieces(page, pieces);
    await workbench.up();
    // A browser says it is back; the page need not wait for its own next try.
    await page.evaluate(() => dispatchEvent(new Event('online')));
  }
  await expect.poll(() => keeping.textContent(), { timeout: SAVED_WITHIN_MS }).toBe('Saved');
  const shown = await page.getByRole('textbox', { name: 'Quantity' }).inputValue();
  expect(shown).toBe(String(pieces));
  const history = (await (await fetch(`${workbench.address}/api/jobs/${jobId}`)).json()) as SeenHistory;
  const kept = new Map(history.revisions.map((revision) => [revision.id, revision]));
  expect(acknowledged.size).toBeGreaterThan(KILLS);
  expect([...acknowledged].filter((id) => !kept.has(id))).toEqual([]);
  for (const { parents } of kept.values()) for (const parent of parents) expect(kept.has(parent)).toBe(true);
  const heads = history.revisions.filter((revision) => revision.standing === 'head');
  expect(heads.map((head) => head.content.quantity)).toEqual([pieces]);
  expect(faults).toEqual([]);
  await context.close();

  await workbench.kill();
  const database = new Database(join(workbench.dataDir, 'gapwright.sqlite'), { readonly: true });
  try {
    expect(database.pragma('integrity_check', { simple: true })).toBe('ok');
    expect(database.pragma('foreign_key_check')).toEqual([]);
  } finally {
    database.close();
  }
}, 240_000);
