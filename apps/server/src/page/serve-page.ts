import { existsSync } from 'node:fs';
import { join, sep } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance, FastifyReply } from 'fastify';
import { ApiFault } from '../api-fault.js';

/** Places of the page; each opens with the same document, which shows the place by its address. */
const PLACES = ['/', '/jobs', '/jobs/:id', '/floor', '/burns', '/book'] as const;

/**
 * The page and its files. Files below `assets/` carry a hash of their content in their name and may be kept for good;
 * everything else (the document, the service worker, the mark) is asked for again each time.
 */
export async function servePage(app: FastifyInstance, pageDir: string): Promise<void> {
  await app.register(fastifyStatic, {
    root: pageDir,
    index: false,
    // Two places are routed below; a folder gives no list.
    list: false,
    dotfiles: 'ignore',
    cacheControl: false,
    setHeaders(response, path) {
      const isHashed = path.startsWith(join(pageDir, 'assets') + sep);
      response.setHeader('cache-control', isHashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  const sendDocument = async (_request: unknown, reply: FastifyReply): Promise<FastifyReply> => {
    if (!existsSync(join(pageDir, 'index.html'))) {
      throw new ApiFault(503, 'PAGE-NOT-BUILT', 'The page is not built yet. Run npm run build and start again.');
    }
    return reply.sendFile('index.html');
  };
  for (const place of PLACES) app.get(place, { schema: { hide: true } }, sendDocument);
}
