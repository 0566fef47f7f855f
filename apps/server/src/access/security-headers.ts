import helmet from '@fastify/helmet';
import type { FastifyInstance } from 'fastify';

const NONE = ["'none'"];
const SELF = ["'self'"];

/** Nothing but the page's own files runs or is loaded, and nobody may frame the page. */
export async function sendSecurityHeaders(app: FastifyInstance): Promise<void> {
  await app.register(helmet, {
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: SELF,
        scriptSrc: SELF,
        styleSrc: SELF,
        // Drawings and papers are shown from memory.
        imgSrc: ["'self'", 'blob:', 'data:'],
        workerSrc: ["'self'", 'blob:'],
        connectSrc: SELF,
        fontSrc: SELF,
        manifestSrc: SELF,
        objectSrc: NONE,
        frameSrc: NONE,
        frameAncestors: NONE,
        baseUri: NONE,
        formAction: SELF,
      },
    },
    // There is no TLS on loopback to insist on.
    strictTransportSecurity: false,
    crossOriginResourcePolicy: { policy: 'same-origin' },
    xFrameOptions: { action: 'deny' },
    referrerPolicy: { policy: 'no-referrer' },
  });
}
