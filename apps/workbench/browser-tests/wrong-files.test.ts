import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, openPage, Workbench } from './harness.js';
import { dropFiles, PLATE } from './sheet-steps.js';

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

it('says in one sentence why a file was not taken and keeps what was good', async () => {
  const { page, context, faults } = await openPage(browser, workbench);
  await page.getByRole('heading', { name: 'Desk', level: 1 }).waitFor();
  const pdf = new TextEncoder().encode('%PDF-1.7\n1 0 obj\n<<>>\nendobj\n');
  await dropFiles(page, [{ name: 'part.pdf', bytes: pdf }]);
  const notes = page.getByRole('main').getByRole('status').getByRole('listitem');
  await notes.filter({ hasText: 'part.pdf was not taken.' }).waitFor();
  await dropFiles(page, [{ name: 'part.dxf', bytes: new Uint8Array() }]);
  await notes.filter({ hasText: 'part.dxf was not taken. The file is empty.' }).waitFor();
  // The good one among the bad ones is started all the same.
  await dropFiles(page, [{ name: 'part.pdf', bytes: pdf }, PLATE, { name: 'empty.dxf', bytes: new Uint8Array() }]);
  await notes.filter({ hasText: 'plate.dxf: an enquiry was started.' }).waitFor();
  expect(await notes.count()).toBe(3);
  expect(await page.getByRole('article').count()).toBe(1);
  expect(faults).toEqual([]);
  await context.close();
});

it('opens a drawing that was cut off in the middle, says so, and keeps it', async () => {
  const { page, context, faults } = await openPage(browser, workbench);
  await page.getByRole('heading', { name: 'Desk', level: 1 }).waitFor();
  // Cut within the entities: what came before is there, the end is not.
  const text = new TextDecoder().decode(PLATE.bytes);
  const middle = Math.floor((text.indexOf('ENTITIES') + text.length) / 2);
  await dropFiles(page, [{ name: 'cut-off.dxf', bytes: PLATE.bytes.slice(0, middle) }]);
  const problems = page.getByRole('region', { name: 'Problems' });
  await problems.waitFor();
  expect(await problems.textContent()).toMatch(/ends|cut off|incomplete|end of the file/i);
  // The file stays with its enquiry, so that it can be looked into or sent back.
  expect(await page.getByRole('main').textContent()).toContain('cut-off');
  expect(faults).toEqual([]);
  await context.close();
});
