import type { BookKind } from '@gapwright/records';
import postUrl from '../../../../shop/posts/iso-6983.json?url&no-inline';
import shopBookUrl from '../../../../shop/starting-shop-book.json?url&no-inline';
import technologyBookUrl from '../../../../shop/starting-technology-book.json?url&no-inline';
import { sha256Of } from './sha256.js';

/** A book as it ships with the page, before the shop has its own. */
export interface StartingBook {
  readonly kind: BookKind;
  readonly sha256: string;
  readonly text: string;
}

const URLS: Readonly<Record<BookKind, string>> = {
  'shop-book': shopBookUrl,
  'technology-book': technologyBookUrl,
  post: postUrl,
};

/** The starting books; the service worker has them when there is no network. */
export async function fetchStartingBooks(): Promise<StartingBook[]> {
  return Promise.all(
    (Object.keys(URLS) as BookKind[]).map(async (kind) => {
      const response = await fetch(URLS[kind]);
      if (!response.ok)
        throw new Error(`The starting ${kind} could not be read (${response.status}). Reload the page.`);
      const bytes = new Uint8Array(await response.arrayBuffer());
      return { kind, sha256: await sha256Of(bytes), text: new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes) };
    }),
  );
}
