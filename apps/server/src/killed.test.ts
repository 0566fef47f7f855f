import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BurnRecord, KeptBurnRecord, Revision } from '@gapwright/records';
import { openStore, type Store } from '@gapwright/store';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { STORE_FILE } from './data-directory.js';
import { buildServer, startProcess } from './testing/server-process.js';
import { newBurn, newRevision, sendFile, sendJson, sha256Of } from './testing/test-server.js';

/** Two shops at once, so that one starts while the other is looked through. */
const LANES = 2;
const KILLS_PER_LANE = 8;

let dir = '';
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'gapwright-killed-'));
  buildServer();
}, 240_000);
afterAll(() => rmSync(dir, { recursive: true, force: true }));

/** What the server answered as saved. */
interface Acknowledged {
  readonly files: Map<string, number>;
  readonly revisions: Revision[];
  readonly burns: BurnRecord[];
}

/** Saves as a page does, one after the other, until the server is gone. `saved` is called after each answer. */
async function saveUntilGone(address: string, jobId: string, done: Acknowledged, saved: () => void): Promise<void> {
  let parents = done.revisions.slice(-1).map((r) => r.id);
  try {
    for (let k = 0; ; k++) {
      const bytes = Buffer.from(`0\nSECTION\n${randomUUID()}\n`.repeat(1 + ((k * 97) % 800)));
      const sha256 = sha256Of(bytes);
      if ((await sendFile(address, sha256, bytes)).status === 200) done.files.set(sha256, bytes.byteLength);
      saved();
      const drawing = { sha256, fileName: `part-${k}.dxf`, byteLength: bytes.byteLength };
      const revision = newRevision({ jobId, parents, drawing, says: `Step ${k}`, content: { heightMm: 1 + k } });
      if ((await sendJson(address, 'PUT', `/api/revisions/${revision.id}`, revision)).status === 200) {
        done.revisions.push(revision);
        parents = [revision.id];
      }
      saved();
      const burn = newBurn();
      if ((await sendJson(address, 'PUT', `/api/burns/${burn.id}`, burn)).status === 200) done.burns.push(burn);
      saved();
    }
  } catch {
    // The connection broke: the server was killed.
  }
}

async function expectAllThere(store: Store, jobId: string, done: Acknowledged): Promise<void> {
  expect(await store.faults()).toEqual([]);
  for (const [sha256, byteLength] of done.files) expect(await store.fileLength(sha256)).toBe(byteLength);
  const job = await store.job(jobId);
  const kept = new Map(job?.revisions.map((r) => [r.id, r]));
  for (const revision of done.revisions) {
    expect(kept.get(revision.id)).toMatchObject(revision);
    // The bytes themselves, checked against their hash as they are read.
    expect(await store.file(revision.drawing!.sha256)).not.toBeNull();
  }
  // The history is whole: every parent is there, and exactly one revision is the head.
  for (const revision of kept.values()) for (const parent of revision.parents) expect(kept.has(parent)).toBe(true);
  expect([...kept.values()].filter((r) => r.standing === 'head')).toHaveLength(1);
  const burns = new Map<string, KeptBurnRecord>();
  for (let after = 0, more = true; more; ) {
    const changes = await store.changes(after);
    for (const burn of changes.burns) burns.set(burn.id, burn);
    ({ sequence: after, more } = changes);
  }
  for (const burn of done.burns) expect(burns.get(burn.id)).toMatchObject(burn);
}

async function killAgainAndAgain(lane: number): Promise<Acknowledged> {
  const dataDir = join(dir, `lane-${lane}`);
  const jobId = randomUUID();
  const done: Acknowledged = { files: new Map(), revisions: [], burns: [] };
  for (let round = 0; round < KILLS_PER_LANE; round++) {
    const server = await startProcess(dataDir);
    const before = { files: done.files.size, revisions: done.revisions.length, burns: done.burns.length };
    // After another save each time, while the next ones are under way.
    let left = 4 + ((round * 5) % 11);
    let enough = (): void => undefined;
    const reached = new Promise<void>((resolve) => {
      enough = resolve;
    });
    const saving = saveUntilGone(server.address, jobId, done, () => {
      if (--left === 0) enough();
    });
    const beside = saveUntilGone(
      server.address,
      randomUUID(),
      { files: new Map(), revisions: [], burns: [] },
      () => undefined,
    );
    await reached;
    await server.kill();
    await Promise.all([saving, beside]);
    const { value: store } = await openStore({ file: join(dataDir, STORE_FILE) });
    // What this round saved; all of it once more at the end.
    await expectAllThere(store!, jobId, {
      files: new Map([...done.files].slice(before.files)),
      revisions: done.revisions.slice(before.revisions),
      burns: done.burns.slice(before.burns),
    });
    await store!.close();
  }
  const { value: store } = await openStore({ file: join(dataDir, STORE_FILE) });
  await expectAllThere(store!, jobId, done);
  await store!.close();
  return done;
}

test(`killed ${LANES * KILLS_PER_LANE} times while a page saves, no answered save is lost`, async () => {
  const lanes = await Promise.all(Array.from({ length: LANES }, (_, lane) => killAgainAndAgain(lane)));
  for (const { files, revisions, burns } of lanes) {
    for (const count of [files.size, revisions.length, burns.length]) expect(count).toBeGreaterThan(KILLS_PER_LANE);
  }
}, 600_000);
