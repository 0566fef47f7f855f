import { readFileSync } from 'node:fs';
import { createConnection } from 'node:net';
import { join } from 'node:path';
import { apiErrorSchema, MOST_FILE_BYTES } from '@gapwright/records';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type Answer,
  ask,
  newRevision,
  sendFile,
  sendJson,
  sha256Of,
  startTestServer,
  type TestServer,
} from './testing/test-server.js';

let server: TestServer;
let host = '';
beforeAll(async () => {
  server = await startTestServer();
  host = new URL(server.address).host;
});
afterAll(() => server.close());

function codeOf(answer: Answer, status: number): string {
  expect(answer.status, answer.bytes.toString()).toBe(status);
  return apiErrorSchema.parse(answer.json()).error.code;
}

describe('requests of other web pages', () => {
  test.each(['evil.example', 'evil.example:80', '127.0.0.1.evil.example', '127.0.0.1', '127.0.0.1:1', '[::1]:7411'])(
    'host %j is refused everywhere (a domain pointed at this computer)',
    async (foreign) => {
      for (const path of ['/api/health', '/api/changes', '/', '/assets/index-4f3a.js', '/nothing']) {
        const answer = await ask(server.address, path, { headers: { host: foreign } });
        expect([400, 403]).toContain(answer.status);
        expect(answer.bytes.toString()).not.toContain('storeId');
      }
    },
  );

  test('this computer’s own names are answered, in any case', async () => {
    const port = new URL(server.address).port;
    for (const own of [host, `localhost:${port}`, `LOCALHOST:${port}`]) {
      expect((await ask(server.address, '/api/health', { headers: { host: own } })).status).toBe(200);
    }
  });

  test.each([
    'http://evil.example',
    'null',
    'http://localhost:1',
    'https://localhost',
    'http://127.0.0.1:1',
    'file://',
  ])('origin %s changes and reads nothing', async (origin) => {
    const revision = newRevision();
    const headers = { host, origin, 'content-type': 'application/json' };
    const answer = await ask(server.address, `/api/revisions/${revision.id}`, {
      ...{ method: 'PUT', headers, body: JSON.stringify(revision) },
    });
    expect(codeOf(answer, 403)).toBe('API-FOREIGN-ORIGIN');
    expect(answer.headers['access-control-allow-origin']).toBeUndefined();
    expect((await ask(server.address, `/api/jobs/${revision.jobId}`)).status).toBe(404);
    expect(codeOf(await ask(server.address, '/api/changes', { headers: { host, origin } }), 403)).toBe(
      'API-FOREIGN-ORIGIN',
    );
  });

  test('a preflight request is not granted', async () => {
    const headers = { host, origin: 'http://evil.example', 'access-control-request-method': 'PUT' };
    const answer = await ask(server.address, '/api/health', { method: 'OPTIONS', headers });
    expect(answer.status).toBe(403);
    expect(Object.keys(answer.headers).filter((name) => name.startsWith('access-control-'))).toEqual([]);
  });

  test('the API answers no other site, also without an origin; a link to the page may be followed', async () => {
    for (const site of ['cross-site', 'same-site']) {
      const headers = { host, 'sec-fetch-site': site };
      expect(codeOf(await ask(server.address, '/api/changes', { headers }), 403)).toBe('API-FOREIGN-ORIGIN');
      expect((await ask(server.address, '/floor', { headers })).status).toBe(200);
    }
    for (const site of ['same-origin', 'none']) {
      const headers = { host, 'sec-fetch-site': site, origin: server.address };
      expect((await ask(server.address, '/api/changes', { headers })).status).toBe(200);
    }
  });

  test.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', 'text/html'])(
    'bodies of type %s, which a form can send, are not taken',
    async (type) => {
      const revision = newRevision();
      const asking = { method: 'PUT', headers: { 'content-type': type }, body: JSON.stringify(revision) };
      expect(codeOf(await ask(server.address, `/api/revisions/${revision.id}`, asking), 415)).toBe('API-CONTENT-TYPE');
    },
  );

  test('a record is not taken as octet-stream, a file not as JSON, and neither without a type', async () => {
    const revision = newRevision();
    const body = JSON.stringify(revision);
    const octets = { 'content-type': 'application/octet-stream' };
    const path = `/api/revisions/${revision.id}`;
    expect(codeOf(await ask(server.address, path, { method: 'PUT', headers: octets, body }), 415)).toBe(
      'API-CONTENT-TYPE',
    );
    expect(codeOf(await ask(server.address, path, { method: 'PUT', body }), 415)).toBe('API-CONTENT-TYPE');
    const file = `/api/files/${sha256Of('{}')}`;
    expect(codeOf(await sendJson(server.address, 'PUT', file, {}), 415)).toBe('API-CONTENT-TYPE');
  });
});

describe('paths', () => {
  const SECRETS = ['secret of the folder above', 'of the build', 'SQLite format'];

  test.each([
    '/../outside.txt',
    '/..%2foutside.txt',
    '/%2e%2e/outside.txt',
    '/%2e%2e%2foutside.txt',
    '/assets/../../outside.txt',
    '/assets/..%2f..%2foutside.txt',
    '/assets/%2e%2e/%2e%2e/outside.txt',
    '/..\\outside.txt',
    '/%5c..%5coutside.txt',
    '/....//outside.txt',
    '//outside.txt',
    '/assets/..%00/outside.txt',
    '/%c0%ae%c0%ae/outside.txt',
    '/../data/gapwright.sqlite',
    '/..%2fdata%2fgapwright.sqlite',
    '/.vite/manifest.json',
    '/%2evite/manifest.json',
    '/assets/..%2f.vite/manifest.json',
    '/assets',
    '/assets/',
    '/index-4f3a.js',
  ])('%s gives nothing away', async (path) => {
    const { status, bytes } = await ask(server.address, path);
    expect([400, 403, 404]).toContain(status);
    for (const secret of SECRETS) expect(bytes.toString('latin1')).not.toContain(secret);
  });

  test('other spellings of an API path do not slip past the guard', async () => {
    const headers = { host, 'sec-fetch-site': 'cross-site' };
    for (const path of [
      '/api/changes?x',
      '/%61pi/changes',
      '//api/changes',
      '/api//changes',
      '/API/changes',
      '/api/changes/',
    ]) {
      const { status, bytes } = await ask(server.address, path, { headers });
      expect([403, 404], path).toContain(status);
      expect(bytes.toString()).not.toContain('"jobs"');
    }
  });

  test('an absurdly long path and a broken escape are answered in a sentence', async () => {
    expect((await ask(server.address, `/api/jobs/${'a'.repeat(5000)}`)).status).toBeGreaterThanOrEqual(400);
    const broken = await ask(server.address, '/api/jobs/%E0%A4%A');
    expect(broken.status).toBe(400);
    expect((await ask(server.address, '/api/health')).status).toBe(200);
  });
});

describe('bodies', () => {
  test.each([
    ['half an object', '{"id":'],
    ['nothing', ''],
    ['a bare word', 'yes'],
    ['a poisoned prototype', '{"__proto__":{"isAdmin":true}}'],
    ['bytes that are no text', '\ufffd\u0000{'],
  ])('JSON that is %s is refused', async (_what, body) => {
    const { id } = newRevision();
    const headers = { 'content-type': 'application/json' };
    const answer = await ask(server.address, `/api/revisions/${id}`, { method: 'PUT', headers, body });
    expect(codeOf(answer, 400)).toMatch(/^API-/);
    expect(({} as Record<string, unknown>).isAdmin).toBeUndefined();
  });

  test.each(['null', '[]', '"text"', '7', '[[[[]]]]'])('JSON that is %s and no record is refused', async (body) => {
    const { id } = newRevision();
    const headers = { 'content-type': 'application/json' };
    const answer = await ask(server.address, `/api/revisions/${id}`, { method: 'PUT', headers, body });
    expect(codeOf(answer, 400)).toBe('API-BAD-REQUEST');
  });

  test('a poisoned prototype deep in a job is refused', async () => {
    const revision = newRevision();
    const body = JSON.stringify(revision).replace('"material":"D2"', '"offer":{"__proto__":{"unitPrice":1}}');
    const headers = { 'content-type': 'application/json' };
    expect((await ask(server.address, `/api/revisions/${revision.id}`, { method: 'PUT', headers, body })).status).toBe(
      400,
    );
  });

  test('a record and a file above the limits are refused before they are read', async () => {
    const revision = newRevision({ content: { notes: 'x'.repeat(1_100_000) } });
    const path = `/api/revisions/${revision.id}`;
    expect(codeOf(await sendTooMuch(path, 'application/json', 1_100_200), 413)).toBe('API-TOO-LARGE');
    const file = `/api/files/${'0'.repeat(64)}`;
    expect(codeOf(await sendTooMuch(file, 'application/octet-stream', MOST_FILE_BYTES + 1), 413)).toBe('API-TOO-LARGE');
  });

  test('a file of just the limit is kept', async () => {
    const bytes = Buffer.alloc(MOST_FILE_BYTES, 7);
    const sha256 = sha256Of(bytes);
    expect((await sendFile(server.address, sha256, bytes)).status).toBe(200);
    const back = await ask(server.address, `/api/files/${sha256}`);
    expect(sha256Of(back.bytes)).toBe(sha256);
  }, 60_000);

  test('text that would not come back exactly is refused', async () => {
    const revision = newRevision();
    const body = JSON.stringify(revision).replace('"Began"', '"Beg\\ud800n"');
    const headers = { 'content-type': 'application/json' };
    const answer = await ask(server.address, `/api/revisions/${revision.id}`, { method: 'PUT', headers, body });
    expect(codeOf(answer, 422)).toBe('STORE-BAD-TEXT');
  });

  test('bytes that are no HTTP at all leave the server answering', async () => {
    const { hostname, port } = new URL(server.address);
    await new Promise<void>((resolve) => {
      const socket = createConnection(Number(port), hostname, () => socket.end('\x16\x03\x01 not http\r\n\r\n'));
      socket.on('error', () => resolve());
      socket.on('close', () => resolve());
      socket.resume();
    });
    expect((await ask(server.address, '/api/health')).status).toBe(200);
  });

  /** Names a length without sending so much: the answer must come at once. */
  function sendTooMuch(path: string, type: string, byteLength: number): Promise<Answer> {
    const headers = { 'content-type': type, 'content-length': String(byteLength) };
    return ask(server.address, path, { method: 'PUT', headers, body: ' ' });
  }
});

describe('the page', () => {
  test.each(['/', '/jobs', '/jobs/4c0d4f6e-6f0a-4f63-9f51-3f3f6d1b8a11', '/floor', '/burns', '/book'])(
    '%s opens with the document, which is asked for each time',
    async (path) => {
      const { status, headers, bytes } = await ask(server.address, path);
      expect(status).toBe(200);
      expect(headers['content-type']).toMatch(/^text\/html/);
      expect(headers['cache-control']).toBe('no-cache');
      expect(bytes.toString()).toBe(readFileSync(join(server.pageDir, 'index.html'), 'utf8'));
    },
  );

  test('files named by their content may be kept for good, the service worker not', async () => {
    const script = await ask(server.address, '/assets/index-4f3a.js');
    expect(script.headers['cache-control']).toBe('public, max-age=31536000, immutable');
    expect(script.headers['content-type']).toMatch(/javascript/);
    expect((await ask(server.address, '/sw.js')).headers['cache-control']).toBe('no-cache');
    expect((await ask(server.address, '/index.html')).headers['cache-control']).toBe('no-cache');
  });

  test('nothing foreign runs in it and nobody frames it', async () => {
    for (const path of ['/', '/api/health', '/nothing']) {
      const { headers } = await ask(server.address, path);
      const policy = String(headers['content-security-policy']);
      for (const part of [
        "default-src 'self'",
        "script-src 'self'",
        "style-src 'self'",
        "img-src 'self' blob: data:",
        "worker-src 'self' blob:",
        "connect-src 'self'",
        "object-src 'none'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
      ]) {
        expect(policy.split(';')).toContain(part);
      }
      expect(policy).not.toContain('unsafe');
      expect(headers).toMatchObject({ 'x-content-type-options': 'nosniff', 'x-frame-options': 'DENY' });
      expect(headers['strict-transport-security']).toBeUndefined();
    }
  });
});
