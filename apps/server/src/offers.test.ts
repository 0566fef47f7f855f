import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { request } from 'node:http';
import { fileURLToPath } from 'node:url';
import { apiErrorSchema, type OfferRecord, offerRecordSchema, type PaperRequest } from '@gapwright/records';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { buildServer } from './testing/server-process.js';
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

const DEMO = fileURLToPath(new URL('../../../demo/blade-punch/', import.meta.url));
const { gapwrightJob: _, drawing: fileName, ...content } = JSON.parse(readFileSync(`${DEMO}job.json`, 'utf8'));
const bytes = readFileSync(`${DEMO}${fileName}`);
const drawing = { sha256: sha256Of(bytes), fileName, byteLength: bytes.length };

/** A whole job is run for each paper; the machine may have much else to do. */
const SLOW_MS = 120_000;

let server: TestServer;
let books: { bookSha256: string; postSha256: string };
beforeAll(async () => {
  buildServer();
  server = await startTestServer();
  await sendFile(server.address, drawing.sha256, bytes);
  const current = async (kind: string): Promise<string> =>
    (await ask(server.address, `/api/books/${kind}`)).json().versions[0].sha256;
  books = { bookSha256: await current('shop-book'), postSha256: await current('post') };
}, 240_000);
afterAll(() => server.close());

function paper(over: Partial<PaperRequest> = {}): PaperRequest {
  const { sha256 } = drawing;
  return {
    ...{ kind: 'route-card', form: 'pdf', operation: null, content, drawing: { sha256, fileName } },
    ...{ ...books, day: '2026-11-25', asks: [] },
    ...over,
  };
}

const askPaper = (over?: Partial<PaperRequest>): Promise<Answer> =>
  sendJson(server.address, 'POST', '/api/papers', paper(over));

function errorOf(answer: Answer, status: number) {
  expect(answer.status, answer.bytes.toString().slice(0, 500)).toBe(status);
  return apiErrorSchema.parse(answer.json()).error;
}

/** A revision of the demo job, kept. */
async function keptRevision(over: object = {}): Promise<string> {
  const revision = newRevision({ content: { ...content, ...over }, drawing });
  const answer = await sendJson(server.address, 'PUT', `/api/revisions/${revision.id}`, revision);
  expect(answer.status, answer.bytes.toString()).toBe(200);
  return revision.id;
}

const offerOf = (revisionId: string, over: object = {}) => ({
  ...{ id: randomUUID(), revisionId, ...books, day: '2026-11-25', promisedDay: '2026-12-04' },
  ...{ madeAt: '2026-11-25T11:00:00.000Z', madeBy: 'Desk by the window' },
  ...over,
});

const askOffer = (body: object): Promise<Answer> => sendJson(server.address, 'POST', '/api/offers', body);

test(
  'a paper is made as PDF and as pages, and nothing is kept of it',
  async () => {
    const before = (await ask(server.address, '/api/health')).json().sequence;
    const pdf = await askPaper();
    expect(pdf.status, pdf.bytes.toString('latin1').slice(0, 500)).toBe(200);
    expect(pdf.headers['content-type']).toBe('application/pdf');
    expect(pdf.bytes.subarray(0, 5).toString()).toBe('%PDF-');
    const { pages } = (await askPaper({ form: 'svg' })).json();
    expect(pages.length).toBeGreaterThan(0);
    for (const page of pages) expect(page).toMatch(/^<svg /);
    expect((await ask(server.address, '/api/health')).json().sequence).toBe(before);
  },
  SLOW_MS,
);

test(
  'a paper that cannot be made says why',
  async () => {
    const { quantity: _quantity, material: _material, ...open } = content;
    const missing = errorOf(await askPaper({ content: open }), 422);
    expect(missing.message).toMatch(/^The paper is not made: .*(quantity|material) is missing/);
    expect(missing.problems).toHaveLength(2);
    expect(errorOf(await askPaper({ content: { ...content, colour: 'blue' } }), 422).code).toBe('JOB-BAD-FIELD');
    const other = { sha256: 'ab'.repeat(32), fileName };
    expect(errorOf(await askPaper({ drawing: other }), 409).code).toBe('STORE-FILE-UNKNOWN');
    expect(errorOf(await askPaper({ bookSha256: books.postSha256 }), 409).code).toBe('STORE-BOOK-UNKNOWN');
    errorOf(await askPaper({ day: '2026-02-30' }), 400);
    expect(errorOf(await askPaper({ kind: 'set-up-sheet', operation: 99 }), 422).message).toContain('99');
    const notDrawn = Buffer.from('This is no drawing');
    await sendFile(server.address, sha256Of(notDrawn), notDrawn);
    const bad = await askPaper({ drawing: { sha256: sha256Of(notDrawn), fileName: 'letter.dxf' } });
    expect(errorOf(bad, 422).problems!.length).toBeGreaterThan(0);
  },
  SLOW_MS,
);

test(
  'an offer is made once, keeps everything handed over, and stays as it was',
  async () => {
    const revisionId = await keptRevision({ wantedDay: '2026-12-10', notes: 'Stays on the desk' });
    const body = offerOf(revisionId);
    const answer = await askOffer(body);
    expect(answer.status, answer.bytes.toString().slice(0, 500)).toBe(200);
    const offer = offerRecordSchema.parse(answer.json().offer);
    expect(offer).toMatchObject({
      id: body.id,
      revisionId,
      ...books,
      promisedDay: '2026-12-04',
      drawing,
      currency: 'EUR',
    });
    const names = offer.papers.map((file) => file.fileName);
    expect(names).toEqual(expect.arrayContaining(['quotation.pdf', 'route-card.pdf', 'job.json']));
    for (const file of [...offer.papers, offer.sheet]) {
      const { bytes: kept } = await ask(server.address, `/api/files/${file.sha256}`);
      expect([sha256Of(kept), kept.byteLength]).toEqual([file.sha256, file.byteLength]);
    }
    const sheet = (await ask(server.address, `/api/files/${offer.sheet.sha256}`)).json();
    expect(sheet.plan.offer.unitPrice.value).toBe(offer.unitPrice);
    expect((await askOffer(body)).json().offer).toEqual(offer);
    expect(errorOf(await askOffer({ ...body, promisedDay: null }), 409).code).toBe('STORE-ID-TAKEN');
    expect((await ask(server.address, `/api/offers/${body.id}`)).json().offer).toEqual(offer);
    const told = (await ask(server.address, '/api/changes?after=0')).json().offers as OfferRecord[];
    expect(told.filter((o) => o.id === offer.id)).toEqual([offer]);
  },
  SLOW_MS,
);

test(
  'a job that is stopped is not offered, and nothing of it is kept',
  async () => {
    const body = offerOf(await keptRevision({ heightMm: 5000 }));
    const { message, problems } = errorOf(await askOffer(body), 422);
    expect(message).toMatch(/^No offer is made: /);
    expect(problems!.length).toBeGreaterThan(0);
    expect((await ask(server.address, `/api/offers/${body.id}`)).status).toBe(404);
  },
  SLOW_MS,
);

test('an offer needs its revision, a drawing and its books', async () => {
  expect(errorOf(await askOffer(offerOf(randomUUID())), 409).code).toBe('STORE-REVISION-UNKNOWN');
  const bare = newRevision({ content });
  await sendJson(server.address, 'PUT', `/api/revisions/${bare.id}`, bare);
  expect(errorOf(await askOffer(offerOf(bare.id)), 422).code).toBe('OFFER-NO-DRAWING');
  const revisionId = await keptRevision();
  expect(errorOf(await askOffer(offerOf(revisionId, { postSha256: books.bookSha256 })), 409).code).toBe(
    'STORE-BOOK-UNKNOWN',
  );
});

test('while a paper is made the server goes on answering, and the work ends when nobody waits for it', async () => {
  const { hostname, port } = new URL(server.address);
  const body = JSON.stringify(paper({ kind: 'quotation' }));
  const headers = { 'content-type': 'application/json', 'content-length': String(Buffer.byteLength(body)) };
  const leaving = request({ hostname, port, path: '/api/papers', method: 'POST', headers, agent: false });
  const left = new Promise((resolve) => leaving.on('error', resolve));
  leaving.end(body);
  for (let k = 0; k < 20; k++) expect((await ask(server.address, '/api/health')).status).toBe(200);
  leaving.destroy();
  await left;
  expect((await ask(server.address, '/api/health')).status).toBe(200);
}, 60_000);

test('work beyond the time limit is ended with a sentence', async () => {
  const hurried = await startTestServer({ computeLimitMs: 50 });
  await sendFile(hurried.address, drawing.sha256, bytes);
  const answer = await sendJson(hurried.address, 'POST', '/api/papers', paper());
  expect(errorOf(answer, 503).code).toBe('COMPUTE-TOO-LONG');
  expect((await ask(hurried.address, '/api/health')).status).toBe(200);
  await hurried.close();
}, 60_000);
