import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

export const root = fileURLToPath(new URL('../../..', import.meta.url));
const CHROMIUM = '/usr/bin/chromium';
const START_LIMIT_MS = 20_000;

export const SIZES = {
  desk: { width: 1280, height: 800 },
  wide: { width: 1920, height: 1080 },
  tablet: { width: 820, height: 1180 },
  'tablet on its side': { width: 1180, height: 820 },
} as const;

/** The real server as its own process on its own data, so that it can be killed like a power cut. */
export class Workbench {
  readonly dataDir = mkdtempSync(join(tmpdir(), 'gapwright-page-'));
  address = '';
  private process: ChildProcess | null = null;

  static async start(): Promise<Workbench> {
    const workbench = new Workbench();
    await workbench.up();
    return workbench;
  }

  /** Starts the server; after the first time on the same port, so that open pages find it again. */
  async up(): Promise<void> {
    const port = this.address === '' ? '0' : new URL(this.address).port;
    const args = [join(root, 'apps/cli/bin/gapwright.js'), 'serve', '--port', port, '--data', this.dataDir];
    const child = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    this.process = child;
    this.address = await new Promise<string>((resolve, reject) => {
      let said = '';
      const timer = setTimeout(() => reject(new Error(`the server did not start: ${said}`)), START_LIMIT_MS);
      const hear = (chunk: Buffer): void => {
        said += chunk.toString();
        const address = /http:\/\/127\.0\.0\.1:\d+/.exec(said)?.[0];
        if (address === undefined) return;
        clearTimeout(timer);
        resolve(address);
      };
      child.stdout?.on('data', hear);
      child.stderr?.on('data', hear);
      child.on('exit', (code) => reject(new Error(`the server ended with ${code}: ${said}`)));
    });
  }

  /** Ends the server at once, without a word. */
  async kill(): Promise<void> {
    const child = this.process;
    if (child === null || child.exitCode !== null || child.signalCode !== null) return;
    const gone = new Promise((resolve) => child.once('exit', resolve));
    child.kill('SIGKILL');
    await gone;
  }

  async close(): Promise<void> {
    await this.kill();
    rmSync(this.dataDir, { recursive: true, force: true });
  }
}

export async function openBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: CHROMIUM, args: ['--no-sandbox', '--disable-gpu'] });
}

export interface PageOptions {
  readonly size?: keyof typeof SIZES;
  readonly theme?: 'light' | 'dark';
}

/** A page with an empty browser store. Faults in the page's own scripts end up in `faults`. */
export async function openPage(
  browser: Browser,
  workbench: Pick<Workbench, 'address'>,
  path = '/',
  { size = 'desk', theme = 'light' }: PageOptions = {},
): Promise<{ page: Page; context: BrowserContext; faults: string[] }> {
  const context = await browser.newContext({ viewport: SIZES[size], colorScheme: theme, acceptDownloads: true });
  const page = await context.newPage();
  const faults: string[] = [];
  page.on('pageerror', (error) => faults.push(error.message));
  page.on('console', (message) => {
    // A server that was killed on purpose gives failed requests; these are no faults of the page.
    if (message.type() === 'error' && !/Failed to load resource|net::ERR/.test(message.text()))
      faults.push(message.text());
  });
  await page.goto(`${workbench.address}${path}`);
  return { page, context, faults };
}

export function demoFile(name: string): string {
  return join(root, 'demo', name);
}
