// Measures the drawing pane in real Chromium and prints one JSON line per figure. Run by hand:
// It starts its own page server:
//   node apps/workbench/browser-tests/measure-drawing.mjs [segments] [--page-renderer]
import { once } from 'node:events';
import { loadavg } from 'node:os';
import { fileURLToPath } from 'node:url';
import { chromium } from 'playwright-core';
import { createServer } from 'vite';

const segments = Number(process.argv.find((a) => /^\d+$/.test(a)) ?? 100_000);
const isPageRenderer = process.argv.includes('--page-renderer');
const WIDTH = 1600;
const HEIGHT = 900;

const say = (line) => console.log(JSON.stringify(line));
const rank = (sorted, share) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))] ?? null;
function spread(values) {
  const sorted = [...values].sort((a, b) => a - b);
  const round = (v) => (v === null ? null : Math.round(v * 1000) / 1000);
  return {
    count: sorted.length,
    medianMs: round(rank(sorted, 0.5)),
    p95Ms: round(rank(sorted, 0.95)),
    mostMs: round(sorted.at(-1) ?? null),
  };
}

const server = await createServer({
  configFile: fileURLToPath(new URL('../vite.config.ts', import.meta.url)),
  server: { port: 0, strictPort: false, hmr: false, watch: null },
  logLevel: 'error',
});
await server.listen();
const address = server.resolvedUrls.local[0];
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});
try {
  const page = await browser.newPage({ viewport: { width: WIDTH, height: HEIGHT } });
  if (isPageRenderer) await page.addInitScript(() => Reflect.deleteProperty(globalThis, 'OffscreenCanvas'));
  await page.goto(`${address}browser-tests/drawing-bench.html`, { timeout: 120_000 });
  await page.waitForFunction(() => globalThis.measured !== undefined && document.querySelector('.drawing-host canvas'));
  await page.waitForTimeout(1000);
  say({
    figure: 'setting',
    segments,
    viewport: [WIDTH, HEIGHT],
    renderer: isPageRenderer ? 'page' : 'worker',
    browser: browser.version(),
    load1: loadavg()[0],
  });

  // Wall time of tasks says little on a busy machine; the trace also has the processor time of the page's own thread.
  const traced = async () => {
    const { traceEvents } = JSON.parse((await browser.stopTracing()).toString());
    const main = traceEvents.find(
      (e) => e.name === 'thread_name' && e.args.name === 'CrRendererMain' && e.pid === pid(traceEvents),
    );
    return traceEvents
      .filter((e) => e.ph === 'X' && e.name.endsWith('RunTask') && e.tid === main?.tid && e.pid === main?.pid)
      .map((e) => (e.tdur ?? 0) / 1000)
      .filter((ms) => ms > 50)
      .map(Math.round);
  };
  const trace = () => browser.startTracing(page, { categories: ['toplevel', 'devtools.timeline'] });
  const pid = (events) => {
    const counts = new Map();
    for (const e of events) if (e.name === 'FireAnimationFrame') counts.set(e.pid, (counts.get(e.pid) ?? 0) + 1);
    return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0];
  };
  const drain = () =>
    page.evaluate(() => {
      const { measured } = globalThis;
      const copy = {
        costs: measured.costs.splice(0),
        painted: measured.painted.splice(0),
        longTasks: measured.longTasks.splice(0),
        openedAtMs: measured.openedAtMs,
      };
      return copy;
    });
  await drain();

  await page.evaluate((n) => globalThis.measured.open(n), segments);
  await page.waitForFunction(() => globalThis.measured.painted.some((p) => p.kind === 'lines'), null, {
    timeout: 120_000,
  });
  await page.waitForTimeout(500);
  const opened = await drain();
  const first = opened.painted.find((p) => p.kind === 'lines');
  say({
    figure: 'open',
    toFirstPictureMs: Math.round(first.atMs - opened.openedAtMs),
    rendererWorkMs: Math.round(first.workMs),
    drawCalls: first.drawCalls,
    penStrokes: first.penStrokes,
    // The scene is made on this page's thread before the clock starts; that task is not the pane's.
    longTasks: opened.longTasks.filter((t) => t.startMs >= opened.openedAtMs - 1).map((t) => Math.round(t.ms)),
  });

  const box = await page.locator('.drawing-host').boundingBox();
  const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const report = async (figure) => {
    const { costs, painted, longTasks } = await drain();
    say({
      figure,
      frame: spread(costs.filter((c) => c.what === 'frame').map((c) => c.ms)),
      hover: spread(costs.filter((c) => c.what === 'hover').map((c) => c.ms)),
      input: spread(costs.filter((c) => c.what === 'input').map((c) => c.ms)),
      pictureShown: spread(costs.filter((c) => c.what === 'picture').map((c) => c.ms)),
      longTasksWallMs: longTasks.map((t) => Math.round(t.ms)),
      longTasksProcessorMs: await traced(),
      pictures: painted.length,
      drawCallsPerPicture: painted.length === 0 ? 0 : Math.max(...painted.map((p) => p.drawCalls)),
    });
    await trace();
  };

  await trace();
  for (const zoom of [0, 12]) {
    if (zoom > 0) {
      await page.mouse.move(middle.x + 3, middle.y + 2);
      for (let i = 0; i < zoom; i++) {
        await page.mouse.wheel(0, -100);
        await page.waitForTimeout(30);
      }
      await page.waitForTimeout(1500);
      await report('zoom in by wheel');
    }
    const where = zoom === 0 ? 'whole drawing' : '8 times closer';
    await page.mouse.move(middle.x, middle.y);
    await page.mouse.down();
    for (let i = 0; i < 240; i++) {
      await page.mouse.move(middle.x + 200 * Math.sin(i / 20), middle.y + 120 * Math.sin(i / 13));
      await page.waitForTimeout(4);
    }
    await page.mouse.up();
    await page.waitForTimeout(1200);
    await report(`pan, ${where}`);
    for (let i = 0; i < 240; i++) {
      await page.mouse.move(box.x + 40 + ((i * 37) % (box.width - 80)), box.y + 40 + ((i * 53) % (box.height - 80)));
      await page.waitForTimeout(8);
    }
    await page.waitForTimeout(800);
    await report(`hover, ${where}`);
  }

  await browser.stopTracing();
  await page.goto(`${address}browser-tests/drawing-bench.html?scene=walk&moves=10000&erosion`);
  await page.waitForTimeout(2500);
  await drain();
  await trace();
  await page.getByRole('button', { name: 'Run' }).click();
  await page.waitForTimeout(8000);
  await report('erosion, 10,000 moves in 30 s');
  await browser.stopTracing();
} finally {
  await browser.close();
  const closed = once(server.httpServer, 'close');
  await server.close();
  await closed.catch(() => {});
}
