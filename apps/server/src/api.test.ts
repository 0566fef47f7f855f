import { randomUUID } from 'node:crypto';
import { apiErrorSchema } from '@gapwright/records';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type Answer,
  ask,
  newBurn,
  newRevision,
  sendFile,
  sendJson,
  sha256Of,
  startTestServer,
  type TestServer,
} from './testing/test-server.js';

let server: TestServer;
beforeAll(async () => {
  server = await startTestServer();
});
afterAll(() => server.close());

const get = (path: string): Promise<Answer> => ask(server.address, path);
const put = (path: string, body: unknown): Promise<Answer> => sendJson(server.address, 'PUT', path, body);

/** Checks that an answer is an error as the contract says, and gives its code. */
function errorOf(answer: Answer, status: number): { code: string; message: string } {
  expect(answer.status, answer.bytes.toString()).toBe(status);
  expect(answer.headers['content-type']).toMatch(/^application\/json/);
  const { error } = apiErrorSchema.parse(answer.json());
  expect(error.message).toMatch(/^[A-Z].*\.$/s);
  return error;
}

test('health names program, store and who is answered', async () => {
  const health = (await get('/api/health')).json();
  expect(health).toMatchObject({ program: 'gapwright', access: 'this computer only', sequence: expect.any(Number) });
});

describe('starting books', () => {
  test('a new store begins with a version of each, and their texts are files', async () => {
    for (const kind of ['shop-book', 'technology-book', 'post']) {
      const { versions } = (await get(`/api/books/${kind}`)).json();
      expect(versions.at(-1)).toMatchObject({ kind, parent: null });
      const text = await get(`/api/files/${versions.at(-1).sha256}`);
      expect(sha256Of(text.bytes)).toBe(versions.at(-1).sha256);
      expect(() => text.json()).not.toThrow();
    }
  });
});

describe('revisions', () => {
  test('are answered with where they stand, and told under changes and history', async () => {
    const { sequence: before } = (await get('/api/health')).json();
    const first = newRevision();
    const saved = await put(`/api/revisions/${first.id}`, first);
    expect(saved.status).toBe(200);
    expect(saved.json()).toMatchObject({ saved: { ...first, standing: 'head' }, summary: { revisionCount: 1 } });
    const second = newRevision({ jobId: first.jobId, parents: [first.id], says: 'Wire set to B20' });
    await put(`/api/revisions/${second.id}`, second);
    const beside = newRevision({ jobId: first.jobId, parents: [first.id], says: 'Wire set to B30' });
    expect((await put(`/api/revisions/${beside.id}`, beside)).json().saved.standing).toBe('aside');

    const changes = (await get(`/api/changes?after=${before}`)).json();
    expect(changes.jobs).toHaveLength(1);
    expect(changes.jobs[0]).toMatchObject({ head: { id: second.id }, asides: [{ id: beside.id }] });
    const history = (await get(`/api/jobs/${first.jobId}`)).json();
    expect(history.revisions.map((r: { id: string }) => r.id)).toEqual([beside.id, second.id, first.id]);
  });

  test('sent again are kept once; other content under the same id is refused', async () => {
    const revision = newRevision();
    const path = `/api/revisions/${revision.id}`;
    const first = (await put(path, revision)).json();
    expect((await put(path, revision)).json()).toEqual(first);
    expect(errorOf(await put(path, { ...revision, says: 'Else' }), 409).code).toBe('STORE-ID-TAKEN');
  });

  test('whose parent or drawing has not come yet are refused, so that the sender sends that first', async () => {
    const orphan = newRevision({ parents: [randomUUID()] });
    expect(errorOf(await put(`/api/revisions/${orphan.id}`, orphan), 409).code).toBe('STORE-PARENT-UNKNOWN');
    const drawing = { sha256: '0'.repeat(64), fileName: 'a.dxf', byteLength: 1 };
    const bare = newRevision({ drawing });
    expect(errorOf(await put(`/api/revisions/${bare.id}`, bare), 409).code).toBe('STORE-FILE-UNKNOWN');
  });

  test.each([
    ['a field no job has', { material: 'D2', favouriteColour: 'blue' }, 'favouriteColour'],
    ['a field of the wrong kind', { heightMm: 'forty' }, 'heightMm'],
    ['a value out of range', { quantity: -3 }, 'quantity'],
    ['a fault deep inside', { plate: { minX: 0, minY: 0, maxX: 'wide', maxY: 1 } }, 'plate.maxX'],
  ])('with %s are never kept in part', async (_what, content, field) => {
    const revision = newRevision({ content });
    const { code, message } = errorOf(await put(`/api/revisions/${revision.id}`, revision), 422);
    expect(code).toBe('JOB-BAD-FIELD');
    expect(message).toContain(field);
    expect((await get(`/api/jobs/${revision.jobId}`)).status).toBe(404);
  });

  test('under another id than their own, or without a needed field, are refused', async () => {
    const revision = newRevision();
    expect(errorOf(await put(`/api/revisions/${randomUUID()}`, revision), 400).code).toBe('API-BAD-REQUEST');
    const { says: _, ...rest } = revision;
    expect(errorOf(await put(`/api/revisions/${revision.id}`, rest), 400).message).toContain('says');
    expect(errorOf(await put('/api/revisions/not-an-id', revision), 400).message).toContain('id');
    const extra = { ...revision, isAdmin: true };
    expect(errorOf(await put(`/api/revisions/${revision.id}`, extra), 400).message).toContain('isAdmin');
  });
});

describe('files', () => {
  test('come back byte for byte, may be kept for good, and are never shown as a page', async () => {
    const bytes = new Uint8Array(70_000).map((_, k) => (k * 31) % 256);
    const sha256 = sha256Of(bytes);
    expect((await sendFile(server.address, sha256, bytes)).json()).toEqual({ sha256, byteLength: 70_000 });
    expect((await sendFile(server.address, sha256, bytes)).status).toBe(200);
    const { status, headers, bytes: back } = await get(`/api/files/${sha256}`);
    expect(status).toBe(200);
    expect(sha256Of(back)).toBe(sha256);
    expect(headers).toMatchObject({
      'cache-control': 'private, max-age=31536000, immutable',
      'content-type': 'application/octet-stream',
      'content-disposition': 'attachment',
      'x-content-type-options': 'nosniff',
      etag: `"${sha256}"`,
    });
    const again = await ask(server.address, `/api/files/${sha256}`, { headers: { 'if-none-match': `"${sha256}"` } });
    expect(again.status).toBe(304);
    expect(again.bytes).toHaveLength(0);
  });

  test('may be empty', async () => {
    const sha256 = sha256Of('');
    expect((await sendFile(server.address, sha256, new Uint8Array())).json()).toEqual({ sha256, byteLength: 0 });
    expect((await get(`/api/files/${sha256}`)).bytes).toHaveLength(0);
  });

  test('with a wrong hash are refused and not kept', async () => {
    const claimed = sha256Of('what was meant');
    const answer = await sendFile(server.address, claimed, Buffer.from('what arrived'));
    expect(errorOf(answer, 422).code).toBe('STORE-HASH-WRONG');
    expect((await get(`/api/files/${claimed}`)).status).toBe(404);
    expect((await get(`/api/files/${sha256Of('what arrived')}`)).status).toBe(404);
  });

  test('unknown ones are not found, also when asked with a hash in hand; a bad name is refused', async () => {
    const sha256 = 'ab'.repeat(32);
    errorOf(await get(`/api/files/${sha256}`), 404);
    errorOf(await ask(server.address, `/api/files/${sha256}`, { headers: { 'if-none-match': `"${sha256}"` } }), 404);
    errorOf(await get('/api/files/AB'), 400);
    errorOf(await get(`/api/files/${'AB'.repeat(32)}`), 400);
  });
});

describe('books', () => {
  test('a new version that every room can use comes into use', async () => {
    const current = (await get('/api/books/post')).json().versions[0];
    const post = JSON.parse((await get(`/api/files/${current.sha256}`)).bytes.toString());
    const text = JSON.stringify({ ...post, title: 'Our own control' });
    const sha256 = sha256Of(text);
    const version = {
      kind: 'post',
      parent: current.sha256,
      madeAt: '2026-11-25T10:00:00Z',
      madeBy: 'Desk',
      says: 'Ours',
    };
    const { saved } = (await put(`/api/books/post/${sha256}`, { ...version, text })).json();
    expect(saved).toMatchObject({ sha256, isCurrent: true, says: 'Ours' });
    expect((await get('/api/books/post')).json().versions.map((v: { isCurrent: boolean }) => v.isCurrent)).toEqual([
      true,
      false,
    ]);
  });

  test.each(['shop-book', 'technology-book', 'post'])(
    'a %s that no plan could be made with is refused',
    async (kind) => {
      const about = { kind, parent: null, madeAt: '2026-11-25T10:00:00Z', madeBy: 'Desk', says: '' };
      for (const [text, code] of [
        ['{"name":"half a book"}', /^[A-Z-]+$/],
        ['{"name":', /^BOOK-NOT-JSON$/],
        ['null', /^[A-Z-]+$/],
      ] as const) {
        const answer = await put(`/api/books/${kind}/${sha256Of(text)}`, { ...about, text });
        expect(errorOf(answer, 422).code).toMatch(code);
        expect((await get(`/api/files/${sha256Of(text)}`)).status).toBe(404);
      }
    },
  );

  test('a wrong hash, another kind in the body and an unknown kind are refused', async () => {
    const { versions } = (await get('/api/books/post')).json();
    const text = (await get(`/api/files/${versions[0].sha256}`)).bytes.toString();
    const about = { kind: 'post', parent: null, madeAt: '2026-11-25T10:00:00Z', madeBy: 'Desk', says: '', text };
    expect(errorOf(await put(`/api/books/post/${'0'.repeat(64)}`, about), 422).code).toBe('STORE-HASH-WRONG');
    errorOf(await put(`/api/books/shop-book/${versions[0].sha256}`, about), 400);
    errorOf(await get('/api/books/cookbook'), 400);
  });
});

describe('burns', () => {
  test('are kept, corrected and struck', async () => {
    const burn = newBurn();
    expect((await put(`/api/burns/${burn.id}`, burn)).json().saved).toMatchObject({ ...burn, isInUse: true });
    const right = { ...newBurn(), replaces: burn.id };
    await put(`/api/burns/${right.id}`, right);
    const strike = { ...newBurn(), replaces: right.id, content: null };
    expect((await put(`/api/burns/${strike.id}`, strike)).status).toBe(200);
    const { burns } = (await get('/api/changes?after=0')).json();
    const chain = burns.filter((b: { id: string }) => [burn.id, right.id, strike.id].includes(b.id));
    expect(chain.map((b: { isInUse: boolean }) => b.isInUse)).toEqual([false, false, true]);
  });

  test('impossible ones are refused', async () => {
    const burn = newBurn();
    const bad = { ...burn, content: { ...burn.content!, actualMin: -1 } };
    expect(errorOf(await put(`/api/burns/${burn.id}`, bad), 400).message).toContain('actualMin');
    const lost = { ...burn, replaces: randomUUID() };
    expect(errorOf(await put(`/api/burns/${burn.id}`, lost), 409).code).toBe('STORE-BURN-UNKNOWN');
  });
});

test.each(['/api/jobs/', '/api/offers/'])(
  '%s with an unknown id is not found, with a bad one refused',
  async (path) => {
    errorOf(await get(path + randomUUID()), 404);
    errorOf(await get(`${path}1`), 400);
  },
);

test.each(['-1', '1.5', 'all', '1e99'])('changes after %s are refused', async (after) => {
  errorOf(await get(`/api/changes?after=${after}`), 400);
});

test('an address there is not, and a method there is not, are answered as errors', async () => {
  errorOf(await get('/api/nothing'), 404);
  errorOf(await ask(server.address, '/api/health', { method: 'DELETE' }), 404);
});
