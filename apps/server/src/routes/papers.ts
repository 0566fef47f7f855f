import { paperPagesSchema, paperRequestSchema } from '@gapwright/records';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { sound } from '../api-fault.js';
import { clientGone } from './client-gone.js';
import { ERRORS, MOST_RECORD_BYTES, type RouteContext } from './context.js';
import { fetchJobParts } from './job-parts.js';
import { checkDraft } from './revisions.js';

/** `POST /api/papers`: a paper of a job as it stands; nothing is kept. */
export function paperRoutes({ store, compute }: RouteContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.post(
      '/papers',
      {
        bodyLimit: MOST_RECORD_BYTES,
        schema: {
          summary: 'One paper of a job as it stands, as PDF or as SVG pages',
          body: paperRequestSchema,
          response: {
            200: {
              content: {
                'application/pdf': { schema: z.any().meta({ type: 'string', format: 'binary' }) },
                'application/json': { schema: paperPagesSchema },
              },
            },
            ...ERRORS,
          },
        },
      },
      async ({ body }, reply) => {
        const { content, drawing, bookSha256, postSha256, ...ask } = body;
        checkDraft(content);
        const job = await fetchJobParts(store, content, drawing, { bookSha256, postSha256 });
        const paper = sound(
          await compute.run({ makes: 'paper', job, ask }, clientGone(reply)),
          'The paper is not made',
        );
        if ('pages' in paper) return reply.type('application/json').send({ pages: [...paper.pages] });
        reply.type('application/pdf').header('content-disposition', `inline; filename="${ask.kind}-${ask.day}.pdf"`);
        return reply.send(Buffer.from(paper.pdf));
      },
    );
  };
}
