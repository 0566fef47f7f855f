import { createHash } from 'node:crypto';
import {
  type FileRef,
  type OfferRecord,
  type OfferRequest,
  offerRequestSchema,
  savedOfferSchema,
} from '@gapwright/records';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ApiFault, kept, sound } from '../api-fault.js';
import { clientGone } from './client-gone.js';
import { ERRORS, MOST_RECORD_BYTES, type RouteContext } from './context.js';
import { fetchJobParts } from './job-parts.js';
import { checkDraft } from './revisions.js';

/** `POST /api/offers` and `GET /api/offers/:id`. */
export function offerRoutes(context: RouteContext): FastifyPluginAsyncZod {
  const { store, feed } = context;
  return async (app) => {
    app.post(
      '/offers',
      {
        bodyLimit: MOST_RECORD_BYTES,
        schema: {
          summary: 'Run a job, make its papers, and keep all of it as offered',
          body: offerRequestSchema,
          response: { 200: savedOfferSchema, ...ERRORS },
        },
      },
      async ({ body }, reply) => {
        const before = await store.offer(body.id);
        if (before !== null) return { offer: sameOffer(before, body) };
        const { offer, files } = await makeOffer(context, body, clientGone(reply));
        const saved = kept(await store.keepOffer(offer, files));
        feed.look();
        return { offer: saved };
      },
    );

    app.get(
      '/offers/:id',
      {
        schema: {
          summary: 'An offer as it went to the customer',
          params: z.object({ id: z.uuid() }),
          response: { 200: savedOfferSchema, ...ERRORS },
        },
      },
      async ({ params }) => {
        const offer = await store.offer(params.id);
        if (offer === null) throw new ApiFault(404, 'API-NOT-FOUND', `There is no offer ${params.id} here.`);
        return { offer };
      },
    );
  };
}

/** Runs the job of a revision as it was kept; a job that is stopped or not proven is not offered. */
async function makeOffer(
  { store, compute }: RouteContext,
  request: OfferRequest,
  gone: AbortSignal,
): Promise<{ readonly offer: OfferRecord; readonly files: readonly Uint8Array[] }> {
  const { id, revisionId, madeAt, madeBy, promisedDay, bookSha256, postSha256, day } = request;
  const revision = await store.revision(revisionId);
  if (revision === null) {
    throw new ApiFault(409, 'STORE-REVISION-UNKNOWN', `Revision ${revisionId} has not been sent yet. Send it first.`);
  }
  const { drawing } = revision;
  if (drawing === null) {
    throw new ApiFault(422, 'OFFER-NO-DRAWING', 'The job has no drawing, so nothing can be offered. Add one first.');
  }
  checkDraft(revision.content);
  const job = await fetchJobParts(store, revision.content, drawing, { bookSha256, postSha256 });
  const made = sound(await compute.run({ makes: 'hand-over', job, day }, gone), 'No offer is made');
  const sheetBytes = new TextEncoder().encode(JSON.stringify(made.sheet));
  const offer: OfferRecord = {
    id,
    jobId: revision.jobId,
    revisionId,
    madeAt,
    madeBy,
    quantity: made.quantity,
    unitPrice: made.unitPrice,
    currency: made.currency,
    lossRisk: made.lossRisk,
    promisedDay,
    bookSha256,
    postSha256,
    drawing,
    sheet: refTo('sheet.json', sheetBytes),
    papers: made.files.map((file) => refTo(file.fileName, file.bytes)),
  };
  return { offer, files: [sheetBytes, ...made.files.map((file) => file.bytes)] };
}

function refTo(fileName: string, bytes: Uint8Array): FileRef {
  return { sha256: createHash('sha256').update(bytes).digest('hex'), fileName, byteLength: bytes.byteLength };
}

/** An offer asked for twice is made once; the same id for anything else is refused. */
function sameOffer(offer: OfferRecord, request: OfferRequest): OfferRecord {
  const fields = ['revisionId', 'madeAt', 'madeBy', 'promisedDay', 'bookSha256', 'postSha256'] as const;
  if (fields.every((field) => offer[field] === request[field])) return offer;
  throw new ApiFault(409, 'STORE-ID-TAKEN', `Offer ${offer.id} is kept with other content. Give it a new id.`);
}
