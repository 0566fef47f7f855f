import type { Changes, Health } from '@gapwright/records';
import { type ServerApi, ServerAway, ServerRefused } from './server-api.js';

/** A request that takes longer than this is tried again; papers and offers run the whole job and get longer. */
const ANSWER_WITHIN_MS = 20_000;
const PAPER_WITHIN_MS = 180_000;
/** A stream that the server refused is asked for again after this long. */
const STREAM_AGAIN_MS = 5_000;

/**
 * Answers are checked against the schemas. They load beside the page, not with it, and never build code from text: the
 * page's security policy forbids that.
 */
async function schemas(): Promise<typeof import('@gapwright/records')> {
  const shared = globalThis as { __zod_globalConfig?: { jitless?: boolean } };
  shared.__zod_globalConfig = { ...shared.__zod_globalConfig, jitless: true };
  return import('@gapwright/records');
}

interface Parser<T> {
  safeParse(value: unknown): { success: true; data: T } | { success: false };
}

/** Asks the server under `/api` of the page's own address. */
export class HttpApi implements ServerApi {
  constructor(private readonly base = '') {}

  async #answer(path: string, init: RequestInit, withinMs = ANSWER_WITHIN_MS): Promise<Response> {
    let response: Response;
    try {
      response = await fetch(`${this.base}${path}`, { ...init, signal: AbortSignal.timeout(withinMs) });
    } catch (error) {
      throw new ServerAway(`The server does not answer (${error instanceof Error ? error.message : String(error)}).`);
    }
    if (response.ok) return response;
    let code = 'SERVER-ERROR';
    let message = `The server answered ${response.status} to ${path}.`;
    try {
      const parsed = (await schemas()).apiErrorSchema.safeParse(await response.json());
      if (parsed.success) ({ code, message } = parsed.data.error);
    } catch {
      // Not from our server: a proxy in between answers in its own words.
    }
    // Too many at once is a matter of waiting, like a server that is down.
    if (response.status >= 500 || response.status === 429) throw new ServerAway(message);
    throw new ServerRefused(code, message, response.status);
  }

  async #json<T>(path: string, init: RequestInit, parser: Parser<T>, withinMs?: number): Promise<T> {
    const response = await this.#answer(path, init, withinMs);
    let body: unknown;
    try {
      body = await response.json();
    } catch {
      throw new ServerAway(`The answer to ${path} is not from a Gapwright server.`);
    }
    const parsed = parser.safeParse(body);
    if (parsed.success) return parsed.data;
    throw new ServerAway(`The answer to ${path} is not understood. The server may be newer than this page: reload it.`);
  }

  #send<T>(method: 'PUT' | 'POST', path: string, body: unknown, parser: Parser<T>, withinMs?: number): Promise<T> {
    const init = { method, headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
    return this.#json(path, init, parser, withinMs);
  }

  async health(): Promise<Health> {
    return this.#json('/api/health', {}, (await schemas()).healthSchema);
  }

  async changes(after: number): Promise<Changes> {
    return this.#json(`/api/changes?after=${after}`, {}, (await schemas()).changesSchema);
  }

  history: ServerApi['history'] = async (jobId) =>
    this.#json(`/api/jobs/${jobId}`, {}, (await schemas()).jobHistorySchema);

  putRevision: ServerApi['putRevision'] = async (revision) =>
    this.#send('PUT', `/api/revisions/${revision.id}`, revision, (await schemas()).savedRevisionSchema);

  putFile: ServerApi['putFile'] = async (sha256, bytes) => {
    await this.#answer(`/api/files/${sha256}`, {
      method: 'PUT',
      headers: { 'content-type': 'application/octet-stream' },
      body: bytes as Uint8Array<ArrayBuffer>,
    });
  };

  fileBytes: ServerApi['fileBytes'] = async (sha256) => {
    const response = await this.#answer(`/api/files/${sha256}`, {});
    try {
      return new Uint8Array(await response.arrayBuffer());
    } catch {
      throw new ServerAway('The server stopped answering in the middle of a file.');
    }
  };

  putBook: ServerApi['putBook'] = async (version, text) => {
    const { sha256, ...rest } = version;
    const path = `/api/books/${version.kind}/${sha256}`;
    return (await this.#send('PUT', path, { ...rest, text }, (await schemas()).savedBookSchema)).saved;
  };

  putBurn: ServerApi['putBurn'] = async (record) =>
    (await this.#send('PUT', `/api/burns/${record.id}`, record, (await schemas()).savedBurnSchema)).saved;

  makeOffer: ServerApi['makeOffer'] = async (request) =>
    (await this.#send('POST', '/api/offers', request, (await schemas()).savedOfferSchema, PAPER_WITHIN_MS)).offer;

  paperPdf: ServerApi['paperPdf'] = async (request) => {
    const init = {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ ...request, form: 'pdf' }),
    };
    return (await this.#answer('/api/papers', init, PAPER_WITHIN_MS)).blob();
  };

  paperPages: ServerApi['paperPages'] = async (request) =>
    (
      await this.#send(
        'POST',
        '/api/papers',
        { ...request, form: 'svg' },
        (
          await schemas()
        ).paperPagesSchema,
        PAPER_WITHIN_MS,
      )
    ).pages;

  listen: ServerApi['listen'] = (heard) => {
    let source: EventSource | null = null;
    let again: ReturnType<typeof setTimeout> | undefined;
    const open = (): void => {
      source = new EventSource(`${this.base}/api/changes/stream`);
      source.onopen = heard;
      source.onmessage = heard;
      source.onerror = () => {
        // The browser connects again by itself unless the answer was no stream at all.
        if (source?.readyState === EventSource.CLOSED) again = setTimeout(open, STREAM_AGAIN_MS);
      };
    };
    open();
    return () => {
      clearTimeout(again);
      source?.close();
    };
  };
}
