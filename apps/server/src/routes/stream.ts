import { type ChangeNotice, changeNoticeSchema } from '@gapwright/records';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { ApiFault } from '../api-fault.js';
import { ERRORS, type RouteContext } from './context.js';

/** Something is sent this often, so that both ends notice a broken connection, ms. */
const BREATH_MS = 20_000;

/** More open pages than a shop has; a page that forgets to close its streams must not use the server up. */
const MOST_LISTENERS = 100;

/** `GET /api/changes/stream`: server-sent events that say when to ask for changes. */
export function streamRoute({ store, feed }: RouteContext): FastifyPluginAsyncZod {
  return async (app) => {
    const open = new Set<() => void>();
    // A stream never ends by itself and would hold up a graceful close.
    app.addHook('preClose', async () => {
      for (const end of [...open]) end();
      feed.stop();
    });

    app.get(
      '/changes/stream',
      {
        schema: {
          summary: 'Server-sent events: one now and one whenever something was kept',
          response: { 200: { content: { 'text/event-stream': { schema: changeNoticeSchema } } }, ...ERRORS },
        },
      },
      async (_request, reply) => {
        if (feed.listenerCount >= MOST_LISTENERS) {
          throw new ApiFault(503, 'API-TOO-MANY', 'Too many pages listen for changes. Close some.');
        }
        const first = await store.sequence();
        reply.hijack();
        const { raw } = reply;
        const headers = reply.getHeaders() as Record<string, string>;
        raw.writeHead(200, { ...headers, 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
        let told = -1;
        const say = (sequence: number): void => {
          if (sequence === told) return;
          told = sequence;
          const notice: ChangeNotice = { storeId: store.storeId, sequence };
          raw.write(`data: ${JSON.stringify(notice)}\n\n`);
        };
        const breath = setInterval(() => raw.write(': still here\n\n'), BREATH_MS);
        const forget = feed.listen(say);
        const end = (): void => {
          clearInterval(breath);
          forget();
          open.delete(end);
          raw.end();
        };
        open.add(end);
        raw.on('close', end);
        say(first);
        // What was kept between the first look and listening.
        feed.look();
      },
    );
  };
}
