import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { sql } from 'kysely';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { openSqlite } from './connection/sqlite.js';
import { migrate, SCHEMA_VERSION, schemaVersion } from './migrations/migrate.js';
import { openStore } from './open-store.js';
import { StorageError } from './storage-error.js';
import type { Store } from './store.js';
import { bookOf, burnOf, idOf, JOB, revisionOf } from './testing/records.js';

let dir = '';
let file = '';
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'gapwright-store-'));
  file = join(dir, 'gapwright.sqlite');
});
afterEach(() => rmSync(dir, { recursive: true, force: true }));

async function open(): Promise<Store> {
  const { value, problems } = await openStore({ file });
  if (value === null) throw new Error(problems[0]!.message);
  return value;
}

async function refusal(): Promise<{ code: string; message: string }> {
  const { value, problems } = await openStore({ file });
  await value?.close();
  expect(value).toBeNull();
  expect(problems).toHaveLength(1);
  return problems[0]!;
}

const hashOfFile = (): string => createHash('sha256').update(readFileSync(file)).digest('hex');

test('everything is there again, under the same store id', async () => {
  const first = await open();
  const sha256 = await first.keepFile(new Uint8Array([1, 2, 3]));
  await first.keepRevision(revisionOf(idOf(1), []));
  await first.keepBurn(burnOf(idOf(2)));
  await first.keepBook(bookOf('{"v":1}', null), '{"v":1}');
  const before = await first.changes(0);
  await first.close();
  const second = await open();
  expect(await second.changes(0)).toEqual(before);
  expect(second.storeId).toBe(first.storeId);
  expect(new Uint8Array((await second.file(sha256))!)).toEqual(new Uint8Array([1, 2, 3]));
  await second.close();
});

test('a commit is synced to the disk, and points nowhere but to what is there', async () => {
  const engine = openSqlite(file);
  engine.prepare();
  const pragma = async (name: string) =>
    Object.values((await sql`pragma ${sql.raw(name)}`.execute(engine.db)).rows[0]!);
  expect(await pragma('journal_mode')).toEqual(['wal']);
  expect(await pragma('synchronous')).toEqual([2]);
  expect(await pragma('foreign_keys')).toEqual([1]);
  expect(await pragma('busy_timeout')).toEqual([5000]);
  await engine.close();
});

test('the database itself refuses to change or remove anything kept', async () => {
  const store = await open();
  const drawing = { sha256: await store.keepFile(new Uint8Array([7])), fileName: 'a.dxf', byteLength: 1 };
  await store.keepRevision(revisionOf(idOf(1), [], { drawing }));
  await store.keepBurn(burnOf(idOf(2)));
  await store.keepBook(bookOf('{"v":1}', null), '{"v":1}');
  await store.keepBook(bookOf('{"p":1}', null, { kind: 'post' }), '{"p":1}');
  const offer = await store.keepOffer(
    {
      ...{ id: idOf(5), jobId: JOB, revisionId: idOf(1), madeAt: '2026-11-25T10:00:00Z', madeBy: 'Desk', quantity: 1 },
      ...{ unitPrice: 10, currency: 'EUR', lossRisk: 0, promisedDay: null, papers: [], drawing, sheet: drawing },
      bookSha256: bookOf('{"v":1}', null).sha256,
      postSha256: bookOf('{"p":1}', null).sha256,
    },
    [],
  );
  expect(offer.problems).toEqual([]);
  await store.close();
  const raw = new Database(file);
  const tables = raw.prepare("select name from sqlite_master where type = 'table'").pluck().all() as string[];
  const kept = tables.filter((name) => !['gapwright_schema', 'store_info'].includes(name));
  expect(kept.sort()).toEqual(['book_versions', 'burns', 'files', 'offer_files', 'offers', 'revisions']);
  for (const table of kept) {
    const column = (raw.pragma(`table_info(${table})`) as { name: string }[])[0]!.name;
    const count = raw.prepare(`select count(*) from ${table}`).pluck().get();
    expect(count, table).toBeGreaterThan(0);
    expect(() => raw.exec(`update ${table} set ${column} = ${column}`), table).toThrow(/only takes new rows/);
    expect(() => raw.exec(`delete from ${table}`), table).toThrow(/only takes new rows/);
  }
  raw.close();
});

describe('tables of earlier versions', () => {
  test.each([1, 2])('of version %i are brought up to date with what they hold', async (version) => {
    const engine = openSqlite(file);
    engine.prepare();
    await migrate(engine, version);
    expect(await schemaVersion(engine)).toBe(version);
    await sql`insert into revisions values (${idOf(1)}, ${JOB}, null, null, '2026-01-01T00:00:00Z', 'Old desk', 'Began',
      'to read', '{"material":"D2"}', null, null, null, 1, 1)`.execute(engine.db);
    await sql`update store_info set last_sequence = 1`.execute(engine.db);
    await engine.close();
    const store = await open();
    expect((await store.job(JOB))!.summary.head).toMatchObject({ madeBy: 'Old desk', content: { material: 'D2' } });
    expect((await store.keepBurn(burnOf(idOf(2)))).value!.sequence).toBe(2);
    expect(await store.faults()).toEqual([]);
    await store.close();
  });

  test('an interrupted step leaves the version before it', async () => {
    const engine = openSqlite(file);
    engine.prepare();
    const broken = { ...engine, forbidChanges: () => Promise.reject(new Error('power cut')) };
    await expect(migrate(broken)).rejects.toThrow('power cut');
    expect(await schemaVersion(engine)).toBe(0);
    await engine.close();
    await (await open()).close();
  });
});

describe('files that are no store of this program', () => {
  test('a database of a newer program is refused and left as it is', async () => {
    await (await open()).close();
    const raw = new Database(file);
    raw.prepare('insert into gapwright_schema values (?, ?)').run(SCHEMA_VERSION + 1, 'Something later');
    raw.pragma('wal_checkpoint(truncate)');
    raw.close();
    const before = hashOfFile();
    const { code, message } = await refusal();
    expect(code).toBe('STORE-NEWER');
    expect(message).toMatch(/newer Gapwright .*Start it with that version/);
    expect(hashOfFile()).toBe(before);
  });

  test('a database of another program is refused and left as it is', async () => {
    const raw = new Database(file);
    raw.exec('create table customers (name text)');
    raw.close();
    const before = hashOfFile();
    expect((await refusal()).code).toBe('STORE-FOREIGN');
    expect(hashOfFile()).toBe(before);
  });

  test('a file that is no database is refused and left as it is', async () => {
    writeFileSync(file, 'This is a letter to a customer, not a database. '.repeat(100));
    const before = hashOfFile();
    const { code, message } = await refusal();
    expect(code).toBe('STORE-UNUSABLE');
    expect(message).toContain('is not a Gapwright database');
    expect(hashOfFile()).toBe(before);
  });

  test('a folder that does not exist, and a folder in place of a file', async () => {
    file = join(dir, 'nowhere', 'gapwright.sqlite');
    expect((await refusal()).message).toContain('does not exist');
    file = join(dir, 'folder');
    mkdirSync(file);
    expect((await refusal()).message).toContain('cannot be opened');
  });

  test.each([0, 1, 2, 5, 9])('damage to page %i is told in one sentence', async (page) => {
    const at = page * 4096;
    const store = await open();
    for (let k = 1; k <= 40; k++) {
      await store.keepRevision(
        revisionOf(idOf(k), k === 1 ? [] : [idOf(k - 1)], { content: { notes: 'x'.repeat(900) } }),
      );
    }
    await store.close();
    const bytes = readFileSync(file);
    expect(bytes.length).toBeGreaterThan(at + 3000);
    bytes.fill(0xa5, at, at + 3000);
    writeFileSync(file, bytes);
    const { code, message } = await refusal();
    expect(code).toBe('STORE-UNUSABLE');
    expect(message).toMatch(/is damaged|is not a Gapwright database/);
  });

  test('a kept file whose bytes changed on the disk is never handed out', async () => {
    const store = await open();
    const sha256 = await store.keepFile(new Uint8Array(50_000).fill(0x42));
    await store.close();
    const bytes = readFileSync(file);
    // In the middle of its bytes, where no structure of the database shows it.
    bytes[bytes.lastIndexOf(Buffer.alloc(2000, 0x42)) + 700] = 0x43;
    writeFileSync(file, bytes);
    const again = await open();
    const error = await again.file(sha256).catch((e: unknown) => e);
    expect(error).toBeInstanceOf(StorageError);
    expect((error as Error).message).toContain('is damaged');
    await again.close();
  });

  test('a truncated file is told in one sentence', async () => {
    const store = await open();
    await store.keepFile(new Uint8Array(100_000));
    await store.close();
    writeFileSync(file, readFileSync(file).subarray(0, 70_000));
    expect((await refusal()).message).toContain('is damaged');
  });
});

test('a store that another program holds for long says so', async () => {
  const store = await open();
  const raw = new Database(file);
  raw.exec('begin immediate');
  const error = await store.keepRevision(revisionOf(idOf(1), [])).catch((e: unknown) => e);
  expect(error).toBeInstanceOf(StorageError);
  expect((error as Error).message).toContain('held by another program');
  raw.exec('rollback');
  raw.close();
  expect((await store.keepRevision(revisionOf(idOf(1), []))).problems).toEqual([]);
  await store.close();
});
