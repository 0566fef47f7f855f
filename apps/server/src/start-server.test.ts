import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { homedir, tmpdir } from 'node:os';
import { join } from 'node:path';
import { openStore } from '@gapwright/store';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { defaultDataDir, STORE_FILE } from './data-directory.js';
import { StartError } from './start-error.js';
import { type RunningServer, startServer } from './start-server.js';
import { listen } from './testing/listen.js';
import { ask, newBurn, newRevision, sendJson, startTestServer } from './testing/test-server.js';

let dir = '';
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'gapwright-start-'));
});
afterEach(() => rmSync(dir, { recursive: true, force: true }));

const start = (over: object = {}): Promise<RunningServer> =>
  startServer({ dataDir: join(dir, 'data'), port: 0, pageDir: join(dir, 'page'), ...over });

async function complaint(over: object): Promise<string> {
  const error = await start(over).catch((e: unknown) => e);
  expect(error).toBeInstanceOf(StartError);
  expect((error as Error).message).toMatch(/^\S.*\.$/);
  return (error as Error).message;
}

describe('the server does not start', () => {
  test.each(['0.0.0.0', '::', '192.168.1.5', 'localhost', ''])('on host %j: nobody signs in yet', async (host) => {
    expect(await complaint({ host })).toContain('nobody signs in yet');
  });

  test('on a port that is taken, and lets go of the store', async () => {
    const first = await start();
    const port = Number(new URL(first.address).port);
    expect(await complaint({ port, dataDir: join(dir, 'other') })).toContain(`Port ${port} is taken`);
    await first.close();
    const again = await start({ port, dataDir: join(dir, 'other') });
    await again.close();
  });

  test('on a file that is no database of ours', async () => {
    mkdirSync(join(dir, 'data'));
    writeFileSync(join(dir, 'data', STORE_FILE), 'This is a letter, not a database. '.repeat(100));
    expect(await complaint({})).toContain('is not a Gapwright database');
  });

  test('in a folder that cannot be made', async () => {
    writeFileSync(join(dir, 'file'), '');
    expect(await complaint({ dataDir: join(dir, 'file', 'data') })).toContain('cannot be made');
    expect(await complaint({ dataDir: '/proc/gapwright' })).toContain('cannot be made');
  });
});

test('the data folder is for its owner only', async () => {
  await (await start()).close();
  expect(statSync(join(dir, 'data')).mode & 0o777).toBe(0o700);
});

test('the starting books are given once; a shop’s own stay', async () => {
  const first = await start();
  const before = (await ask(first.address, '/api/changes?after=0')).json();
  await first.close();
  const second = await start();
  expect((await ask(second.address, '/api/changes?after=0')).json()).toEqual(before);
  await second.close();
});

test('without a built page the API answers and the page says what to do', async () => {
  mkdirSync(join(dir, 'page'));
  const server = await start();
  const page = await ask(server.address, '/');
  expect(page.status).toBe(503);
  expect(page.json().error).toMatchObject({
    code: 'PAGE-NOT-BUILT',
    message: expect.stringContaining('npm run build'),
  });
  expect((await ask(server.address, '/api/health')).status).toBe(200);
  await server.close();
});

test('a page hears of what another page saves, and the server closes in spite of open streams', async () => {
  const server = await startTestServer();
  const stream = listen(server.address);
  expect(await stream.headers).toMatchObject({ 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
  const { sequence } = await stream.next();
  const burn = newBurn();
  await sendJson(server.address, 'PUT', `/api/burns/${burn.id}`, burn);
  expect((await stream.next()).sequence).toBe(sequence + 1);
  await server.close();
  await stream.ended;
});

test('what was sent before the server was told to close is answered', async () => {
  const server = await start();
  const revisions = Array.from({ length: 20 }, () => newRevision());
  const answers = revisions.map((r) => sendJson(server.address, 'PUT', `/api/revisions/${r.id}`, r).catch(() => null));
  await answers[0];
  await server.close();
  const saved = (await Promise.all(answers)).filter((answer) => answer?.status === 200);
  const { value: store } = await openStore({ file: join(dir, 'data', STORE_FILE) });
  for (const answer of saved) expect(await store!.revision(answer!.json().saved.id)).not.toBeNull();
  await store!.close();
});

describe('the data folder by the custom of the system', () => {
  test.each([
    ['linux', {}, join(homedir(), '.local/share/gapwright')],
    ['linux', { XDG_DATA_HOME: '/srv/data' }, '/srv/data/gapwright'],
    ['linux', { XDG_DATA_HOME: 'relative' }, join(homedir(), '.local/share/gapwright')],
    ['darwin', {}, join(homedir(), 'Library/Application Support/gapwright')],
    ['win32', { LOCALAPPDATA: '/local' }, '/local/gapwright'],
  ] as const)('%s %j', (platform, env, expected) => {
    expect(defaultDataDir(env, platform)).toBe(expected);
  });
});
