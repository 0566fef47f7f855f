import { draftJobSchema } from '@gapwright/job';
import { revisionSchema, savedRevisionSchema } from '@gapwright/records';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ApiFault, kept } from '../api-fault.js';
import { ERRORS, MOST_RECORD_BYTES, type RouteContext } from './context.js';
import { requireSameId } from './same-id.js';

/** `PUT /api/revisions/:id`. */
export function revisionRoutes({ store, feed }: RouteContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.put(
      '/revisions/:id',
      {
        bodyLimit: MOST_RECORD_BYTES,
        schema: {
          summary: 'Keep one state of a job; answered once it is on disk',
          params: z.object({ id: z.uuid() }),
          body: revisionSchema,
          response: { 200: savedRevisionSchema, ...ERRORS },
        },
      },
      async ({ params, body }) => {
        requireSameId(params.id, body.id);
        checkDraft(body.content);
        const saved = kept(await store.keepRevision(body));
        feed.look();
        return saved;
      },
    );
  };
}

/** A job with a field nobody understands is refused whole, never kept in part. */
export function checkDraft(content: unknown): void {
  const parsed = draftJobSchema.safeParse(content);
  if (parsed.success) return;
  const problems = parsed.error.issues.map((issue) => ({
    field: issue.path.map(String).join('.') || '(the whole)',
    message: issue.message,
  }));
  const first = problems[0]!;
  throw new ApiFault(422, 'JOB-BAD-FIELD', `The job cannot be kept: ${first.field}: ${first.message}.`, problems);
}
