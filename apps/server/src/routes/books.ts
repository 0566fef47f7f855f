import type { Result } from '@gapwright/base';
import { parseShopBook, parseTechnologyBook } from '@gapwright/process';
import { parsePost } from '@gapwright/program';
import {
  type BookKind,
  bookKindSchema,
  bookVersionsSchema,
  savedBookSchema,
  sentBookSchema,
  sha256Schema,
} from '@gapwright/records';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ApiFault, kept, sound } from '../api-fault.js';
import { ERRORS, MOST_BOOK_BYTES, type RouteContext } from './context.js';
import { requireSameId } from './same-id.js';

const CHECKS: Readonly<Record<BookKind, (json: unknown) => Result<unknown>>> = {
  'shop-book': parseShopBook,
  'technology-book': parseTechnologyBook,
  post: parsePost,
};

/** `PUT /api/books/:kind/:sha256` and `GET /api/books/:kind`. */
export function bookRoutes({ store, feed }: RouteContext): FastifyPluginAsyncZod {
  return async (app) => {
    app.put(
      '/books/:kind/:sha256',
      {
        bodyLimit: MOST_BOOK_BYTES,
        schema: {
          summary: 'Keep a version of a book that every room can use',
          params: z.object({ kind: bookKindSchema, sha256: sha256Schema }),
          body: sentBookSchema,
          response: { 200: savedBookSchema, ...ERRORS },
        },
      },
      async ({ params, body }) => {
        requireSameId(params.kind, body.kind);
        checkBook(params.kind, body.text);
        const { text, ...version } = body;
        const saved = kept(await store.keepBook({ ...version, sha256: params.sha256 }, text));
        feed.look();
        return { saved };
      },
    );

    app.get(
      '/books/:kind',
      {
        schema: {
          summary: 'All versions of a book, newest first; their texts are files',
          params: z.object({ kind: bookKindSchema }),
          response: { 200: bookVersionsSchema, ...ERRORS },
        },
      },
      async ({ params }) => ({ versions: [...(await store.books(params.kind))] }),
    );
  };
}

/** A book that no plan could be made with is refused. */
function checkBook(kind: BookKind, text: string): void {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (error) {
    throw new ApiFault(422, 'BOOK-NOT-JSON', `The text of the ${kind} is not JSON: ${(error as Error).message}.`);
  }
  sound(CHECKS[kind](json), `The ${kind} is not kept`);
}
