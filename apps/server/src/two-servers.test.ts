import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openStore } from '@gapwright/store';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { STORE_FILE } from './data-directory.js';
import { listen } from './testing/listen.js';
import { buildServer, startProcess } from './testing/server-process.js';
import { ask, newRevision, sendJson } from './testing/test-server.js';

let dir = '';
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'gapwright-two-'));
  buildServer();
}, 240_000);
afterAll(() => rmSync(dir, { recursive: true, force: true }));

test('two servers on one data folder keep everything, and each hears of the other', async () => {
  const servers = await Promise.all([startProcess(dir), startProcess(dir)]);
  const [one, two] = servers.map((server) => server.address) as [string, string];
  const stream = listen(two);
  const { sequence } = await stream.next();
  const revision = newRevision();
  await sendJson(one, 'PUT', `/api/revisions/${revision.id}`, revision);
  expect((await stream.next()).sequence).toBe(sequence + 1);
  // Both edit the same job at once, again and again.
  const made = await Promise.all(
    [one, two].map(async (address) => {
      const ids: string[] = [];
      for (let k = 0; k < 10; k++) {
        const next = newRevision({ jobId: revision.jobId, parents: [ids.at(-1) ?? revision.id] });
        expect((await sendJson(address, 'PUT', `/api/revisions/${next.id}`, next)).status).toBe(200);
        ids.push(next.id);
      }
      return ids;
    }),
  );
  const seen = await Promise.all([one, two].map((address) => ask(address, `/api/jobs/${revision.jobId}`)));
  const [history, same] = seen.map((answer) => answer.json());
  expect(same).toEqual(history);
  expect(history.revisions.map((r: { id: string }) => r.id).sort()).toEqual([revision.id, ...made.flat()].sort());
  expect(history.summary.asides).toHaveLength(1);
  // Neither gave the starting books a second time.
  expect((await ask(one, '/api/books/post')).json().versions).toHaveLength(1);
  for (const server of servers) await server.kill();
  const { value: store } = await openStore({ file: join(dir, STORE_FILE) });
  expect(await store!.faults()).toEqual([]);
  await store!.close();
}, 60_000);
