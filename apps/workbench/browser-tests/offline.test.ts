import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, openPage, Workbench } from './harness.js';

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

it('opens without the server after the first load, at every place, and never answers the API from a copy', async () => {
  const { page, context, faults } = await openPage(browser, workbench);
  await page.getByRole('main').waitFor();
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
  await workbench.kill();
  for (const path of ['/', '/book', '/burns', '/floor']) {
    await page.goto(`${workbench.address}${path}`);
    await page.getByRole('main').waitFor();
    expect(await page.title()).toContain('Gapwright');
  }
  const api = await page.evaluate(() =>
    fetch('/api/health').then(
      () => 'answered',
      () => 'no answer',
    ),
  );
  expect(api).toBe('no answer');
  expect(faults).toEqual([]);
  await context.close();
});
