import { existsSync, mkdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { BugError } from '@gapwright/base';
import { openStore, type Store } from '@gapwright/store';
import type { FastifyInstance, FastifyServerOptions } from 'fastify';
import { LOOPBACK } from './access/this-computer-only.js';
import { ChangeFeed } from './change-feed.js';
import { ComputePool } from './compute/compute-pool.js';
import { STORE_FILE } from './data-directory.js';
import { serverApp } from './server-app.js';
import { StartError } from './start-error.js';
import { keepStartingBooks } from './starting-books.js';

export interface ServerOptions {
  /** Folder of the database; made when it is not there. */
  readonly dataDir: string;
  /** 0 takes any free one. */
  readonly port: number;
  /** Folder of the built page. */
  readonly pageDir: string;
  /** Only {@link LOOPBACK} is taken. */
  readonly host?: string;
  /** Log of the server; silent by default. */
  readonly log?: FastifyServerOptions['logger'];
  /** How long a paper or an offer may take, ms. */
  readonly computeLimitMs?: number;
}

export interface RunningServer {
  /** e.g. `http://127.0.0.1:7411` */
  readonly address: string;
  /** Answers what was asked, then ends. */
  close(): Promise<void>;
}

/** A paper of the largest demo job takes seconds; a job that runs this long will not end well, ms. */
const COMPUTE_LIMIT_MS = 120_000;

/** Starts the workbench server on this computer. Throws a {@link StartError} with one sentence when it cannot start. */
export async function startServer(options: ServerOptions): Promise<RunningServer> {
  const { dataDir, port, pageDir, host = LOOPBACK, log } = options;
  if (host !== LOOPBACK) {
    throw new StartError(
      `The server does not listen on ${host}: nobody signs in yet, so whoever reached it could read and change every job. It answers on ${LOOPBACK} only.`,
    );
  }
  const store = await openStoreIn(dataDir);
  const compute = new ComputePool(options.computeLimitMs ?? COMPUTE_LIMIT_MS);
  let app: FastifyInstance | null = null;
  const close = async (): Promise<void> => {
    await app?.close();
    await compute.close();
    await store.close();
  };
  try {
    await keepStartingBooks(store, new Date());
    const feed = new ChangeFeed(store, (error) => app?.log.error(error));
    app = await serverApp({ store, feed, compute, version: programVersion() }, pageDir, log);
    const address = await app.listen({ port, host });
    return { address, close };
  } catch (error) {
    await close();
    throw listenFault(error, port) ?? error;
  }
}

async function openStoreIn(dataDir: string): Promise<Store> {
  try {
    makeFolder(dataDir);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    throw new StartError(`The data folder ${dataDir} cannot be made (${code}). Name another with --data DIR.`);
  }
  const { value, problems } = await openStore({ file: join(dataDir, STORE_FILE) });
  if (value === null) throw new StartError(problems[0]!.message);
  return value;
}

/**
 * Makes a folder and those above it, readable by its owner only. One by one: asked for all at once, Node tries for ever
 * where a file system refuses new folders without saying so, as /proc does.
 */
function makeFolder(dir: string): void {
  if (existsSync(dir)) return;
  const parent = dirname(dir);
  if (parent !== dir) makeFolder(parent);
  mkdirSync(dir, { mode: 0o700 });
}

function listenFault(error: unknown, port: number): StartError | null {
  const { code } = error as NodeJS.ErrnoException;
  if (code === 'EADDRINUSE') {
    return new StartError(
      `Port ${port} is taken by another program, perhaps by a Gapwright that is running already. Open http://${LOOPBACK}:${port} or name another with --port.`,
    );
  }
  if (code === 'EACCES')
    return new StartError(`This user may not listen on port ${port}. Name one above 1023 with --port.`);
  return null;
}

function programVersion(): string {
  const text = readFileSync(new URL('../package.json', import.meta.url), 'utf8');
  const { version } = JSON.parse(text) as { version?: unknown };
  if (typeof version !== 'string') throw new BugError('package.json of the server names no version');
  return version;
}
