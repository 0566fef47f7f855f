import { burnRecordSchema, savedBurnSchema } from '@gapwright/records';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { kept } from '../api-fault.js';
import { ERRORS, MOST_RECORD_BYTES, type RouteContext } from './context.js';
import { requireSameId } from './same-id.js';

/** `PUT /api/burns/:id`. */
export function burnRoutes({ store, feed }: RouteContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.put(
      '/burns/:id',
      {
        bodyLimit: MOST_RECORD_BYTES,
        schema: {
          summary: 'Keep an entry of the burn log, a correction or a strike',
          params: z.object({ id: z.uuid() }),
          body: burnRecordSchema,
          response: { 200: savedBurnSchema, ...ERRORS },
        },
      },
      async ({ params, body }) => {
        requireSameId(params.id, body.id);
        const saved = kept(await store.keepBurn(body));
        feed.look();
        return { saved };
      },
    );
  };
}
