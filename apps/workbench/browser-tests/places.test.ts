import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, SIZES, Workbench } from './harness.js';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const PLANNED_WITHIN_MS = 60_000;
/** WCAG 2.2, 2.5.8: the least side of a target, CSS pixels. */
const LEAST_TARGET_PX = 24;

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

type Look = (page: Page, place: string) => Promise<void>;

/** Goes through every place in the states a planner sees, and looks at each. */
async function visit(context: BrowserContext, look: Look): Promise<void> {
  const page = await context.newPage();
  const open = async (path: string): Promise<void> => {
    await page.goto(`${workbench.address}${path}`);
    await page.getByRole('heading', { level: 1 }).waitFor();
  };
  await open('/');
  await look(page, 'desk');
  await page.getByRole('button', { name: /^Help/ }).click();
  await page.getByRole('dialog').waitFor();
  await look(page, 'help');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: /^Find/ }).click();
  await page.getByRole('dialog').waitFor();
  await look(page, 'finder');
  await page.keyboard.press('Escape');

  await page.getByText('Titanium lattice clip').first().click();
  await page
    .locator('#sheet-proof')
    .getByText('Proven')
    .first()
    .waitFor({ timeout: PLANNED_WITHIN_MS, state: 'attached' });
  await page
    .getByRole('button', { name: /^Price per piece:/ })
    .first()
    .click();
  await page
    .getByRole('heading', { name: /What would change it most|Working/ })
    .first()
    .waitFor();
  await look(page, 'sheet with a working');
  await page.getByRole('button', { name: 'Try a change' }).click();
  await page.locator('#sheet-what-if').waitFor();
  await look(page, 'a tried change');
  await page.locator('#sheet-what-if').getByRole('button', { name: 'Put it away' }).click();
  await page.getByRole('button', { name: 'History' }).click();
  await page.getByRole('dialog').waitFor();
  await look(page, 'history');
  await page.keyboard.press('Escape');

  await open('/');
  await look(page, 'desk with slips');
  await open('/floor');
  await look(page, 'floor');
  await open('/burns');
  const demo = page.getByRole('button', { name: /demo log/ });
  if ((await demo.count()) > 0) {
    await look(page, 'burn log, empty');
    await demo.click();
  }
  await page.getByRole('heading', { name: 'Forecast and actual' }).waitFor();
  await look(page, 'burn log');
  await open('/book');
  for (const leaf of ['Materials', 'Planning rules', 'Technology points', 'Post definition', 'Versions']) {
    await page.getByRole('button', { name: leaf, exact: true }).click();
    await page.getByRole('heading', { name: leaf, level: 2 }).waitFor();
    await look(page, `shop book, ${leaf}`);
  }
  await page.close();
}

interface AxeAnswer {
  readonly violations: readonly {
    readonly id: string;
    readonly impact: string | null;
    readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
  }[];
}

it.each(['light', 'dark'] as const)('axe finds nothing serious or critical in any place, %s', async (theme) => {
  // The page allows no script but its own; the checker is let in here only.
  const context = await browser.newContext({ viewport: SIZES.desk, colorScheme: theme, bypassCSP: true });
  await context.addInitScript(AXE);
  const found: string[] = [];
  await visit(context, async (page, place) => {
    // What is out of sight would not be looked at.
    await page.addStyleTag({ content: '.sheet-section { content-visibility: visible !important; }' });
    const { violations } = (await page.evaluate('axe.run(document, { resultTypes: ["violations"] })')) as AxeAnswer;
    for (const v of violations) {
      if (v.impact !== 'serious' && v.impact !== 'critical') continue;
      const [first] = v.nodes;
      found.push(`${place}: ${v.id}, ${v.nodes.length} times, first at ${first?.html}: ${first?.failureSummary}`);
    }
  });
  expect(found).toEqual([]);
  await context.close();
});

/** Faults of the layout as a person would name them. */
function layoutFaults(leastPx: number): string[] {
  const faults: string[] = [];
  const root = document.documentElement;
  if (root.scrollWidth > root.clientWidth + 1)
    faults.push(`the page is ${root.scrollWidth - root.clientWidth} px wider than the screen`);
  const visible = (element: Element): DOMRect | null => {
    const box = element.getBoundingClientRect();
    return box.width === 0 ||
      box.height === 0 ||
      !element.checkVisibility({ visibilityProperty: true, contentVisibilityAuto: true })
      ? null
      : box;
  };
  const nameOf = (element: Element): string =>
    `${element.tagName.toLowerCase()}.${element.className} “${(element.getAttribute('aria-label') ?? element.textContent ?? '').trim().slice(0, 40)}”`;
  for (const element of document.querySelectorAll<HTMLElement>(
    'button, a[href], input:not([type=hidden]), select, textarea, summary',
  )) {
    const box = visible(element);
    if (box === null || element.closest('[aria-hidden=true], .visually-hidden') !== null || box.width <= 1) continue;
    // What is there for readers only is clipped to a pixel by what holds it.
    if ((element.parentElement?.getBoundingClientRect().width ?? 0) <= 1) continue;
    // A link within a sentence, and a figure within a text, may be as high as its line (WCAG 2.5.8, inline).
    const isInline =
      getComputedStyle(element).display.startsWith('inline') && element.closest('p, li, td, th, dd, label') !== null;
    const target = element.closest('label') ?? element;
    const size = target.getBoundingClientRect();
    if (!isInline && (size.height < leastPx - 0.5 || size.width < leastPx - 0.5)) {
      faults.push(`${nameOf(element)} is only ${Math.round(size.width)} × ${Math.round(size.height)} px`);
    }
  }
  for (const element of document.querySelectorAll<HTMLElement>(
    'h1, h2, h3, th, td, label, button, figcaption, dt, dd',
  )) {
    if (visible(element) === null) continue;
    const style = getComputedStyle(element);
    const isCut =
      style.overflowX !== 'visible' &&
      style.textOverflow !== 'ellipsis' &&
      element.scrollWidth > element.clientWidth + 1;
    if (isCut && element.textContent!.trim() !== '' && element.closest('.visually-hidden') === null)
      faults.push(`${nameOf(element)} is cut off`);
  }
  return faults;
}

it.each(Object.keys(SIZES) as (keyof typeof SIZES)[])(
  'nothing is cut off, too small or too wide at the size of a %s',
  async (size) => {
    const context = await browser.newContext({ viewport: SIZES[size], colorScheme: 'light' });
    const found: string[] = [];
    await visit(context, async (page, place) => {
      const shots = process.env.SCREENSHOTS;
      if (shots !== undefined) await page.screenshot({ path: `${shots}/${size} ${place}.png`.replaceAll(' ', '-') });
      found.push(...(await page.evaluate(layoutFaults, LEAST_TARGET_PX)).map((fault) => `${place}: ${fault}`));
    });
    expect([...new Set(found)]).toEqual([]);
    await context.close();
  },
);
