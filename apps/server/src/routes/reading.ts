import { changesSchema, healthSchema, jobHistorySchema } from '@gapwright/records';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ApiFault } from '../api-fault.js';
import { ERRORS, type RouteContext } from './context.js';

/** `GET /api/health`, `/api/changes` and `/api/jobs/:jobId`. */
export function readingRoutes({ store, version }: RouteContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/health',
      { schema: { summary: 'Who answers, and how much it keeps', response: { 200: healthSchema, ...ERRORS } } },
      async () => ({
        program: 'gapwright' as const,
        version,
        storeId: store.storeId,
        sequence: await store.sequence(),
        access: 'this computer only' as const,
      }),
    );

    app.get(
      '/changes',
      {
        schema: {
          summary: 'Everything kept after a sequence number, as it stands now',
          querystring: z.object({ after: z.coerce.number().int().min(0).default(0) }),
          response: { 200: changesSchema, ...ERRORS },
        },
      },
      ({ query }) => store.changes(query.after),
    );

    app.get(
      '/jobs/:jobId',
      {
        schema: {
          summary: 'The whole history of a job, newest first',
          params: z.object({ jobId: z.uuid() }),
          response: { 200: jobHistorySchema, ...ERRORS },
        },
      },
      async ({ params }) => {
        const job = await store.job(params.jobId);
        if (job === null) throw new ApiFault(404, 'API-NOT-FOUND', `There is no job ${params.jobId} here.`);
        return job;
      },
    );
  };
}
