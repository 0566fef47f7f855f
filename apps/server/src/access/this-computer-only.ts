import type { FastifyInstance, FastifyRequest } from 'fastify';
import { ApiFault } from '../api-fault.js';

/** The one address the server listens on while nobody signs in. */
export const LOOPBACK = '127.0.0.1';

/**
 * Listening on loopback keeps other computers out, but not other web pages: any page open in a browser on this computer
 * can send requests here. Three things stop it.
 *
 * 1. `Host` must be this computer's own name. A page whose domain was pointed at 127.0.0.1 after it loaded (DNS rebinding)
 *    counts as same-origin for the browser and could read every answer; its requests carry its own domain as host.
 * 2. `Origin`, which a browser puts on every request that another page could change something with, must be our own page.
 *    A request without it comes from no page (a script, the command line) or only reads.
 * 3. `Sec-Fetch-Site` says where a request came from also when there is no origin; the API takes none from another site.
 *    Following a link to the page itself is allowed.
 *
 * Bodies are JSON or octet-stream only (see `error-answers.ts`): the types a form of another page can send without asking
 * first are not taken.
 */
export function admitThisComputerOnly(app: FastifyInstance): void {
  app.addHook('onRequest', async (request) => {
    const hosts = ownHosts(request);
    if (!hosts.includes((request.headers.host ?? '').toLowerCase())) {
      throw new ApiFault(403, 'API-FOREIGN-HOST', `This server answers to ${hosts.join(' and ')} only.`);
    }
    const { origin } = request.headers;
    if (origin !== undefined && !hosts.some((host) => origin.toLowerCase() === `http://${host}`)) {
      throw new ApiFault(
        403,
        'API-FOREIGN-ORIGIN',
        'Another web page asked. Only the page of this server is answered.',
      );
    }
    const site = request.headers['sec-fetch-site'];
    const isOwn = site === undefined || site === 'same-origin' || site === 'none';
    if (!isOwn && isApi(request)) {
      throw new ApiFault(
        403,
        'API-FOREIGN-ORIGIN',
        'Another web page asked. Only the page of this server is answered.',
      );
    }
  });
}

/** The names this computer has for itself, with the port the request came in on. */
function ownHosts(request: FastifyRequest): string[] {
  const port = request.socket.localPort;
  const names = [LOOPBACK, 'localhost'];
  return port === 80 ? [...names, ...names.map((name) => `${name}:80`)] : names.map((name) => `${name}:${port}`);
}

/** By the address as it was routed, so that no other spelling of a path slips through. */
function isApi(request: FastifyRequest): boolean {
  return request.routeOptions.url === undefined || request.routeOptions.url.startsWith('/api/');
}
