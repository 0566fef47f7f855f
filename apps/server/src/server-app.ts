import rateLimit from '@fastify/rate-limit';
import swagger from '@fastify/swagger';
import Fastify, { type FastifyInstance, type FastifyServerOptions } from 'fastify';
import { jsonSchemaTransform, serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import { sendSecurityHeaders } from './access/security-headers.js';
import { admitThisComputerOnly } from './access/this-computer-only.js';
import { answerErrors } from './error-answers.js';
import { servePage } from './page/serve-page.js';
import { bookRoutes } from './routes/books.js';
import { burnRoutes } from './routes/burns.js';
import type { RouteContext } from './routes/context.js';
import { fileRoutes } from './routes/files.js';
import { offerRoutes } from './routes/offers.js';
import { paperRoutes } from './routes/papers.js';
import { readingRoutes } from './routes/reading.js';
import { revisionRoutes } from './routes/revisions.js';
import { streamRoute } from './routes/stream.js';

/** Requests per minute: a device that was away sends its whole outbox at once, a runaway loop is stopped. */
const MOST_PER_MINUTE = 30_000;

/** All routes and what guards them, not listening yet. */
export async function serverApp(
  context: RouteContext,
  pageDir: string,
  log: FastifyServerOptions['logger'],
): Promise<FastifyInstance> {
  const app = Fastify({ logger: log ?? false, routerOptions: { maxParamLength: 128 } });
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  // A form of any web page can send text/plain without asking first; see `this-computer-only.ts`.
  app.removeContentTypeParser('text/plain');
  answerErrors(app);
  await sendSecurityHeaders(app);
  admitThisComputerOnly(app);
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Gapwright',
        description: 'Keeps jobs, drawings, books, burns and offers; makes papers. Answers this computer only.',
        version: context.version,
      },
    },
    transform: jsonSchemaTransform,
  });
  await app.register(
    async (api) => {
      await api.register(rateLimit, { max: MOST_PER_MINUTE, timeWindow: '1 minute' });
      api.addHook('onSend', async (_request, reply) => {
        if (!reply.hasHeader('cache-control')) reply.header('cache-control', 'no-store');
      });
      api.get('/openapi.json', { schema: { hide: true } }, async (_request, reply) => reply.send(app.swagger()));
      for (const routes of [
        readingRoutes,
        streamRoute,
        revisionRoutes,
        fileRoutes,
        bookRoutes,
        burnRoutes,
        paperRoutes,
        offerRoutes,
      ]) {
        await api.register(routes(context));
      }
    },
    { prefix: '/api' },
  );
  await servePage(app, pageDir);
  return app;
}
