import { appendFileSync, cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openBrowser, openPage, root, Workbench } from './harness.js';

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

it('offers a newer version of the page and changes to it only when asked, with every edit kept', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'gapwright-update-'));
  const pageDir = join(folder, 'page');
  cpSync(join(root, 'apps/workbench/dist'), pageDir, { recursive: true });
  const { startServer } = (await import('../../server/dist/index.js')) as typeof import('../../server/src/index.js');
  const server = await startServer({ dataDir: join(folder, 'data'), port: 0, pageDir });
  try {
    const { page, context, faults } = await openPage(browser, server);
    await page.getByRole('main').waitFor();
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await page.evaluate(() => Object.assign(globalThis, { isOldPage: true }));
    appendFileSync(join(pageDir, 'sw.js'), '\n// A newer version.\n');
    await page.evaluate(async () => (await navigator.serviceWorker.ready).update());
    const reload = page.getByRole('button', { name: 'Reload' });
    await reload.waitFor();
    expect(await page.evaluate(() => 'isOldPage' in globalThis)).toBe(true);
    await reload.click();
    await page.waitForFunction(() => !('isOldPage' in globalThis));
    await page.getByRole('main').waitFor();
    expect(await page.evaluate(async () => (await navigator.serviceWorker.ready).waiting)).toBeNull();
    expect(faults).toEqual([]);
    await context.close();
  } finally {
    await server.close();
    rmSync(folder, { recursive: true, force: true });
  }
});
