import { readFileSync } from 'node:fs';
import { parseShopBook } from '../parse-shop-book.js';
import type { ShopBook } from '../shop-book.js';

/** The starting shop book as parsed JSON, fresh each time so that a test may damage it. */
export function startingBookJson(): Record<string, unknown> {
  return JSON.parse(readFileSync(new URL('../../../../shop/starting-shop-book.json', import.meta.url), 'utf8'));
}

let book: ShopBook | undefined;

/** The starting shop book, read once. */
export function startingBook(): ShopBook {
  if (book !== undefined) return book;
  const { value, problems } = parseShopBook(startingBookJson());
  if (value === null) throw new Error(problems.map((p) => p.message).join('\n'));
  book = value;
  return book;
}
