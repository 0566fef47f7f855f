import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { BugError } from '@gapwright/base';
import type { BookKind } from '@gapwright/records';
import type { Store } from '@gapwright/store';

/** The starting books lie in `shop/` of the installed program; both src/ and dist/ are three folders below its root. */
const SHOP = fileURLToPath(new URL('../../../shop', import.meta.url));

const STARTING_FILES: Readonly<Record<BookKind, string>> = {
  'shop-book': 'starting-shop-book.json',
  'technology-book': 'starting-technology-book.json',
  post: 'posts/iso-6983.json',
};

/** Gives a new store its first version of each book; a store that has one keeps its own. */
export async function keepStartingBooks(store: Store, now: Date): Promise<void> {
  for (const [kind, file] of Object.entries(STARTING_FILES) as [BookKind, string][]) {
    if ((await store.books(kind)).length > 0) continue;
    const text = readFileSync(join(SHOP, file), 'utf8');
    const { value, problems } = await store.keepBook(
      {
        kind,
        sha256: createHash('sha256').update(text, 'utf8').digest('hex'),
        parent: null,
        madeAt: now.toISOString(),
        madeBy: 'Gapwright',
        says: 'Starting values; replace them with your own',
      },
      text,
    );
    if (value === null) throw new BugError(`starting ${kind}: ${problems[0]?.message}`);
  }
}
