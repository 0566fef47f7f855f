import { createHash, randomUUID } from 'node:crypto';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { type IncomingHttpHeaders, request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { BurnRecord, Revision } from '@gapwright/records';
import { type ServerOptions, startServer } from '../start-server.js';

export interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly bytes: Buffer;
  /** Parsed body; throws when it is no JSON. */
  // biome-ignore lint/suspicious/noExplicitAny: tests look into answers by name
  json(): any;
}

export interface Asking {
  readonly method?: string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array;
}

/** One request exactly as given: no header is added, no path is cleaned up. */
export function ask(
  address: string,
  path: string,
  { method = 'GET', headers = {}, body }: Asking = {},
): Promise<Answer> {
  const { hostname, port } = new URL(address);
  return new Promise((resolve, reject) => {
    const sent = request({ hostname, port, path, method, headers, agent: false }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('error', reject);
      response.on('end', () => {
        const bytes = Buffer.concat(chunks);
        resolve({
          status: response.statusCode ?? 0,
          headers: response.headers,
          bytes,
          json: () => JSON.parse(bytes.toString('utf8')) as unknown,
        });
      });
    });
    sent.on('error', reject);
    sent.end(body);
  });
}

export function sendJson(address: string, method: string, path: string, body: unknown): Promise<Answer> {
  const text = JSON.stringify(body);
  return ask(address, path, { method, headers: { 'content-type': 'application/json' }, body: text });
}

export function sendFile(address: string, sha256: string, bytes: Uint8Array): Promise<Answer> {
  const headers = { 'content-type': 'application/octet-stream' };
  return ask(address, `/api/files/${sha256}`, { method: 'PUT', headers, body: bytes });
}

export interface TestServer {
  readonly address: string;
  readonly dir: string;
  readonly dataDir: string;
  readonly pageDir: string;
  close(): Promise<void>;
}

/** A server with a small page and an empty data folder of its own. */
export async function startTestServer(over: Partial<ServerOptions> = {}): Promise<TestServer> {
  const dir = mkdtempSync(join(tmpdir(), 'gapwright-server-'));
  const pageDir = join(dir, 'page');
  mkdirSync(join(pageDir, 'assets'), { recursive: true });
  mkdirSync(join(pageDir, '.vite'));
  writeFileSync(join(pageDir, 'index.html'), '<!doctype html><title>Page</title>');
  writeFileSync(join(pageDir, 'sw.js'), '/* service worker */');
  writeFileSync(join(pageDir, 'assets', 'index-4f3a.js'), '/* script */');
  writeFileSync(join(pageDir, '.vite', 'manifest.json'), '{"secret":"of the build"}');
  writeFileSync(join(dir, 'outside.txt'), 'secret of the folder above');
  const dataDir = join(dir, 'data');
  const server = await startServer({ dataDir, pageDir, port: 0, ...over });
  return {
    ...{ address: server.address, dir, dataDir, pageDir },
    async close() {
      await server.close();
      rmSync(dir, { recursive: true, force: true });
    },
  };
}

export function sha256Of(bytes: Uint8Array | string): string {
  return createHash('sha256').update(bytes).digest('hex');
}

export function newRevision(over: Partial<Revision> = {}): Revision {
  return {
    ...{ id: randomUUID(), jobId: randomUUID(), parents: [], madeAt: '2026-11-25T10:00:00.000Z' },
    ...{ madeBy: 'Desk by the window', says: 'Began', stage: 'to price', drawing: null, bookSha256: null },
    content: { material: 'D2', heightMm: 40 },
    ...over,
  };
}

export function newBurn(): BurnRecord {
  const content = {
    ...{ day: '2026-11-24', material: 'D2', machine: 'W1', wire: 'B25', heightMm: 40, level: 1 },
    ...{ predictedMin: 61.5, actualMin: 64, jobId: null, operation: null, note: '' },
  };
  return { id: randomUUID(), madeAt: '2026-11-25T10:00:00.000Z', madeBy: 'Tablet', replaces: null, content };
}
