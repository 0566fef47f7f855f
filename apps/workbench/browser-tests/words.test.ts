import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoFile, openBrowser, openPage, root, Workbench } from './harness.js';
import { namesOnScreen } from './names-on-screen.js';
import { JobWords, ORIGINS, readWordList, WordFinder } from './word-list.js';

const LIST = readWordList(readFileSync(join(root, 'docs/words.md'), 'utf8'));
const finder = new WordFinder(LIST);
const PLANNED_WITHIN_MS = 30_000;
const CLICK_WITHIN_MS = 10_000;

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

/** All texts in a JSON file, and the keys of its maps from id to value. */
function textsOf(value: unknown, mapKeys: readonly string[] = []): string[] {
  if (typeof value === 'string') return [value];
  if (Array.isArray(value)) return value.flatMap((item) => textsOf(item, mapKeys));
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => [
    ...(mapKeys.includes(key) && typeof inner === 'object' && inner !== null ? Object.keys(inner) : []),
    ...textsOf(inner, mapKeys),
  ]);
}

const readJson = (path: string): Record<string, unknown> => JSON.parse(readFileSync(path, 'utf8'));
const book = readJson(join(root, 'shop/starting-shop-book.json'));

/** Names that are data: of the starting books' entries and of the demo jobs. */
function dataWords(): string[] {
  const lists = ['sources', 'materials', 'wires', 'wireMachines', 'drillMachines', 'wireLevels'];
  const named = lists.flatMap((list) =>
    (book[list] as Record<string, unknown>[]).flatMap(({ id, name, title }) => textsOf([id, name, title])),
  );
  const technology = readJson(join(root, 'shop/starting-technology-book.json'));
  const points = (technology.points as Record<string, unknown>[]).flatMap(({ id, material, tool }) =>
    textsOf([id, material, tool]),
  );
  const jobs = readdirSync(join(root, 'demo'), { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .flatMap(({ name }) => {
      const { title, customer, enquiry, drawing, material, cutLayers } = readJson(demoFile(`${name}/job.json`));
      // Group 8 of a DXF entity is its layer.
      const dxf = readFileSync(demoFile(`${name}/${drawing}`), 'latin1');
      const layers = [...dxf.matchAll(/^ *8\r?\n(.+?)\r?$/gm)].map(([, layer]) => layer!);
      return textsOf([title, customer, enquiry, drawing, material, cutLayers, layers]);
    });
  return [...named, ...points, ...jobs, String(book.version)].filter((word) => word.length > 1);
}

// The page keeps numbers together with a hyphen that does not break.
const jobWords = new JobWords(dataWords().flatMap((word) => [word, word.replaceAll('-', '\u2011')]));
/** Cells of the shop book are buttons that show nothing but a value of it. */
const bookValues = new Set(textsOf(book));

function isBookValue(name: string): boolean {
  return bookValues.has(name) || name.split(', ').every((part) => bookValues.has(part));
}

/** Gathers names with the state they were first seen in. */
class Seen {
  readonly names = new Map<string, string>();

  async look(page: Page, state: string): Promise<void> {
    for (const name of await namesOnScreen(page)) {
      if (isBookValue(name)) continue;
      // A row of the finder begins with what kind of thing it is.
      const open = jobWords.leaveOpen(name.replace(/^Command (.*?)(?: not possible now)?$/, '$1'));
      if (!this.names.has(open)) this.names.set(open, state);
    }
  }

  unlisted(): string[] {
    return [...this.names].filter(([name]) => !finder.has(name)).map(([name, state]) => `${name}   (${state})`);
  }
}

function dialogOf(page: Page): Locator {
  return page.getByRole('dialog');
}

async function closeDialog(page: Page): Promise<void> {
  await dialogOf(page).getByRole('button', { name: 'Close' }).click();
  await dialogOf(page).waitFor({ state: 'detached' });
}

async function lookAtHelp(page: Page, seen: Seen, place: string): Promise<void> {
  await page.getByRole('button', { name: 'Help' }).click();
  await dialogOf(page).waitFor();
  const leaves = await dialogOf(page).getByRole('tab').all();
  for (const leaf of leaves) {
    await leaf.click();
    await seen.look(page, `${place}, help`);
  }
  if (leaves.length === 0) await seen.look(page, `${place}, help`);
  await closeDialog(page);
}

async function lookAtFinder(page: Page, seen: Seen, place: string): Promise<void> {
  await page.getByRole('button', { name: 'Find', exact: true }).click();
  await dialogOf(page).getByRole('option').first().waitFor();
  await seen.look(page, `${place}, finder`);
  await page.keyboard.press('Escape');
  await dialogOf(page).waitFor({ state: 'detached' });
}

describe('names on screen', () => {
  it('on the desk stand in the word list', async () => {
    const seen = new Seen();
    const { page, context, faults } = await openPage(browser, workbench);
    await page.getByRole('heading', { level: 1, name: 'Desk' }).waitFor();
    await page.getByText('Or take a demo job').waitFor();
    await seen.look(page, 'desk, empty');
    await page.getByRole('button', { name: 'Paste an enquiry' }).click();
    await seen.look(page, 'desk, pasting an enquiry');
    await page.keyboard.press('Escape');
    await lookAtHelp(page, seen, 'desk');
    await lookAtFinder(page, seen, 'desk');
    await page.locator('.desk-main button, main button').filter({ hasText: 'Internal-spline coupling' }).click();
    await page.waitForURL(/\/jobs\//);
    await page.goto(`${workbench.address}/`);
    await page.getByRole('button', { name: /Move on/ }).waitFor();
    await seen.look(page, 'desk, one slip');
    await page.getByRole('button', { name: /Move on/ }).click();
    await page.getByRole('menuitem').first().waitFor();
    await seen.look(page, 'desk, moving a slip on');
    await page.getByRole('menuitem', { name: 'Ordered' }).click();
    await seen.look(page, 'desk, a slip moved');
    await page.goto(`${workbench.address}/floor`);
    await page.getByRole('heading', { level: 1, name: 'Floor' }).waitFor();
    await seen.look(page, 'floor');
    await lookAtHelp(page, seen, 'floor');
    expect(seen.unlisted()).toEqual([]);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('on a job sheet and on the floor stand in the word list', async () => {
    const seen = new Seen();
    const { page, context, faults } = await openPage(browser, workbench);
    await page
      .getByRole('link', { name: 'Internal-spline coupling' })
      .or(page.locator('main button').filter({ hasText: 'Internal-spline coupling' }))
      .first()
      .click({ timeout: CLICK_WITHIN_MS });
    await page
      .getByText(/Proven/)
      .first()
      .waitFor({ timeout: PLANNED_WITHIN_MS });
    await page.getByRole('button', { name: 'Make the offer' }).waitFor();
    await seen.look(page, 'sheet, planned');
    await page.locator('main .sheet-fig').first().click();
    await page.getByRole('complementary', { name: 'Working' }).waitFor();
    await seen.look(page, 'sheet, working');
    for (const change of await page.getByRole('button', { name: /^Change the decisions/ }).all()) {
      await change.click();
      await seen.look(page, 'sheet, decisions');
    }
    await page.getByRole('button', { name: 'Try a change' }).click();
    await page.getByLabel('Height', { exact: true }).last().fill('34');
    await page.keyboard.press('Enter');
    await seen.look(page, 'sheet, what-if');
    await page.getByRole('button', { name: 'Put it away' }).click();
    await page.getByRole('button', { name: 'History', exact: true }).click({ timeout: CLICK_WITHIN_MS });
    await dialogOf(page).waitFor();
    await seen.look(page, 'sheet, history');
    await closeDialog(page);
    await lookAtHelp(page, seen, 'sheet');
    await lookAtFinder(page, seen, 'sheet');
    await page.goto(`${workbench.address}/floor`);
    await page.getByRole('heading', { level: 1, name: 'Floor' }).waitFor();
    await seen.look(page, 'floor');
    expect(seen.unlisted()).toEqual([]);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('on the burn log stand in the word list', async () => {
    const seen = new Seen();
    const { page, context, faults } = await openPage(browser, workbench, '/burns');
    await page.getByRole('button', { name: 'Enter a burn' }).waitFor();
    await seen.look(page, 'burn log, empty');
    await page.getByRole('button', { name: 'Enter a burn' }).click();
    await seen.look(page, 'burn log, entering');
    await page.getByRole('button', { name: 'Put it away' }).click();
    await page.getByRole('button', { name: /demo log/ }).click();
    await page.getByRole('heading', { name: 'What the burns say' }).waitFor();
    await seen.look(page, 'burn log, demo log');
    await lookAtHelp(page, seen, 'burn log');
    await lookAtFinder(page, seen, 'burn log');
    expect(seen.unlisted()).toEqual([]);
    expect(faults).toEqual([]);
    await context.close();
  });

  it('in the shop book stand in the word list', async () => {
    const seen = new Seen();
    const { page, context, faults } = await openPage(browser, workbench, '/book');
    await page.getByRole('navigation', { name: 'Leaves of the shop book' }).waitFor();
    const leaves = await page.getByRole('navigation', { name: 'Leaves of the shop book' }).getByRole('button').all();
    expect(leaves.length).toBeGreaterThan(10);
    for (const leaf of leaves) {
      await leaf.click();
      const title = (await leaf.textContent()) ?? '';
      await seen.look(page, `shop book, ${title}`);
      const entry = page.locator('[data-cell]').first();
      if ((await entry.count()) === 0) continue;
      await entry.click();
      await seen.look(page, `shop book, ${title}, an entry`);
    }
    await lookAtHelp(page, seen, 'shop book');
    await lookAtFinder(page, seen, 'shop book');
    expect(seen.unlisted()).toEqual([]);
    expect(faults).toEqual([]);
    await context.close();
  });
});

describe('the word list', () => {
  it('says of every label where it comes from, and names the standard', () => {
    expect(LIST.length).toBeGreaterThan(300);
    for (const { label, origin, note } of LIST) {
      expect(ORIGINS, label).toContain(origin);
      if (origin === 'standard') expect(note, label).toMatch(/\b(?:ISO|IEC|DIN|EN|SI|RFC|FIPS)\b/);
    }
  });

  it('has no label that is open everywhere', () => {
    for (const { label } of LIST) expect(label.replaceAll('…', ''), label).toMatch(/\p{L}/u);
  });
});
