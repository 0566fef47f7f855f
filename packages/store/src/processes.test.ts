import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import { createHash, randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BurnRecord, KeptBurnRecord, Revision } from '@gapwright/records';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { openStore } from './open-store.js';
import type { Store } from './store.js';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const WRITER = fileURLToPath(new URL('./testing/writer.mjs', import.meta.url));

const KILLS = 22;

let dir = '';
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'gapwright-store-'));
  // A process of its own runs the built program.
  execFileSync(process.execPath, [join(ROOT, 'node_modules/typescript/bin/tsc'), '-b', 'packages/store'], {
    cwd: ROOT,
  });
}, 120_000);
afterAll(() => rmSync(dir, { recursive: true, force: true }));

type Answered =
  | { readonly kind: 'file'; readonly record: { readonly sha256: string; readonly byteLength: number } }
  | { readonly kind: 'revision'; readonly record: Revision }
  | { readonly kind: 'burn'; readonly record: BurnRecord }
  | { readonly kind: 'book'; readonly record: { readonly sha256: string; readonly text: string } };

interface Writer {
  readonly child: ChildProcess;
  /** Resolves once it has answered so many records, or has ended. */
  reached(count: number): Promise<void>;
  /** Everything answered, once it has ended. */
  readonly ended: Promise<{ readonly answered: Answered[]; readonly complaint: string }>;
}

function startWriter(file: string, name: string, count: number): Writer {
  const child = spawn(process.execPath, [WRITER, file, name, String(count)], { stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  let lines = 0;
  let complaint = '';
  child.stderr.on('data', (chunk: Buffer) => {
    complaint += chunk.toString();
  });
  child.stdout.on('data', (chunk: Buffer) => {
    said += chunk.toString();
    lines = said.split('\n').length - 1;
  });
  const reached = (many: number): Promise<void> =>
    new Promise((resolve) => {
      const look = (): void => {
        if (lines >= many) resolve();
      };
      child.stdout.on('data', look);
      child.once('close', () => resolve());
      look();
    });
  const ended = new Promise<{ answered: Answered[]; complaint: string }>((resolve) => {
    child.once('close', () => {
      // A line cut in the middle by the kill was not answered yet.
      const whole = said.split('\n').slice(0, -1);
      resolve({ answered: whole.map((line) => JSON.parse(line) as Answered), complaint });
    });
  });
  return { child, reached, ended };
}

async function open(file: string): Promise<Store> {
  const { value, problems } = await openStore({ file });
  if (value === null) throw new Error(problems[0]!.message);
  return value;
}

async function allBurns(store: Store): Promise<Map<string, KeptBurnRecord>> {
  const burns = new Map<string, KeptBurnRecord>();
  for (let after = 0; ; ) {
    const changes = await store.changes(after);
    for (const burn of changes.burns) burns.set(burn.id, burn);
    if (!changes.more) return burns;
    after = changes.sequence;
  }
}

/** Every answered record is there, exactly as it was sent. */
async function expectKept(store: Store, answered: readonly Answered[]): Promise<void> {
  const burns = await allBurns(store);
  for (const { kind, record } of answered) {
    if (kind === 'file') expect((await store.file(record.sha256))?.byteLength).toBe(record.byteLength);
    if (kind === 'revision') expect(await store.revision(record.id)).toMatchObject(record);
    if (kind === 'burn') expect(burns.get(record.id)).toMatchObject(record);
    if (kind === 'book') {
      const text = await store.bookText('shop-book', record.sha256);
      expect(text).toBe(record.text);
      expect(createHash('sha256').update(text!).digest('hex')).toBe(record.sha256);
    }
  }
}

test(`killed ${KILLS} times in the middle of writing, nothing that was answered is lost`, async () => {
  const file = join(dir, 'killed.sqlite');
  for (let round = 0; round < KILLS; round++) {
    const writer = startWriter(file, `round ${round}`, 1_000_000);
    // After another record each time; it goes on writing until the signal arrives.
    const atLeast = 1 + ((round * 5) % 23);
    await writer.reached(atLeast);
    writer.child.kill('SIGKILL');
    const { answered, complaint } = await writer.ended;
    expect(complaint).toBe('');
    expect(answered.length).toBeGreaterThanOrEqual(atLeast);
    const store = await open(file);
    await expectKept(store, answered);
    expect(await store.faults()).toEqual([]);
    await store.close();
  }
}, 180_000);

test('two processes write the same job in the same file at once: all is kept, with one head', async () => {
  const file = join(dir, 'shared.sqlite');
  const jobId = randomUUID();
  const each = 40;
  // Neither waits for the other to make the tables.
  const writers = [startWriter(file, jobId, each), startWriter(file, jobId, each)];
  const ended = await Promise.all(writers.map((writer) => writer.ended));
  const store = await open(file);
  for (const { answered, complaint } of ended) {
    expect(complaint).toBe('');
    expect(answered).toHaveLength(each * 4);
    await expectKept(store, answered);
  }
  const { summary, revisions } = (await store.job(jobId))!;
  expect(revisions).toHaveLength(2 * each);
  expect(new Set(revisions.map((r) => r.sequence)).size).toBe(2 * each);
  // The one that came second began beside the first; its work waits aside, whole.
  expect(summary.asides).toHaveLength(1);
  expect(summary.head.madeBy).not.toBe(summary.asides[0]!.madeBy);
  expect(await store.faults()).toEqual([]);
  await store.close();
}, 120_000);
