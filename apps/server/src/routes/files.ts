import { createHash } from 'node:crypto';
import { MOST_FILE_BYTES, savedFileSchema, sha256Schema } from '@gapwright/records';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ApiFault } from '../api-fault.js';
import { ERRORS, type RouteContext } from './context.js';

const paramsSchema = z.object({ sha256: sha256Schema });

/** `PUT` and `GET /api/files/:sha256`. */
export function fileRoutes({ store }: RouteContext): FastifyPluginAsyncZod {
  return async (app) => {
    // Only here: everything else is JSON.
    app.addContentTypeParser('application/octet-stream', { parseAs: 'buffer' }, (_request, body, done) => {
      done(null, body);
    });

    app.put(
      '/files/:sha256',
      {
        bodyLimit: MOST_FILE_BYTES,
        schema: {
          summary: 'Keep bytes under their SHA-256; answered once they are on disk',
          consumes: ['application/octet-stream'],
          params: paramsSchema,
          response: { 200: savedFileSchema, ...ERRORS },
        },
      },
      async ({ params, body }) => {
        // A request without a body is an empty file.
        const bytes = body ?? Buffer.alloc(0);
        if (!Buffer.isBuffer(bytes)) {
          throw new ApiFault(415, 'API-CONTENT-TYPE', 'A file is sent as application/octet-stream.');
        }
        const sha256 = createHash('sha256').update(bytes).digest('hex');
        if (sha256 !== params.sha256) {
          throw new ApiFault(
            422,
            'STORE-HASH-WRONG',
            `The bytes that arrived have the SHA-256 ${sha256}, not ${params.sha256}. Send the file again.`,
          );
        }
        await store.keepFile(bytes);
        return { sha256, byteLength: bytes.byteLength };
      },
    );

    app.get(
      '/files/:sha256',
      {
        schema: {
          summary: 'The bytes kept under a SHA-256',
          params: paramsSchema,
          response: {
            200: {
              content: { 'application/octet-stream': { schema: z.any().meta({ type: 'string', format: 'binary' }) } },
            },
            ...ERRORS,
          },
        },
      },
      async ({ params, headers }, reply) => {
        const etag = `"${params.sha256}"`;
        // What is named by its content never changes. Hostile content is only ever offered for saving, never shown.
        reply.header('cache-control', 'private, max-age=31536000, immutable').header('etag', etag);
        reply.header('content-disposition', 'attachment').type('application/octet-stream');
        if (headers['if-none-match'] === etag && (await store.fileLength(params.sha256)) !== null) {
          return reply.code(304).send();
        }
        const bytes = await store.file(params.sha256);
        if (bytes === null) {
          reply.removeHeader('content-disposition').removeHeader('etag');
          throw new ApiFault(404, 'API-NOT-FOUND', `There is no file ${params.sha256} here.`);
        }
        return reply.send(bytes);
      },
    );
  };
}
