import type { Result } from '@gapwright/base';
import { parseShopBook, type ShopBook } from '@gapwright/process';
import { type PostDefinition, parsePost } from '@gapwright/program';
import { Kept } from './kept.js';
import type { SheetBook } from './sheet-inputs.js';

/** Versions of books and post definitions kept parsed at once: the current one and a few that are compared with it. */
const BOOKS_KEPT = 4;

/** Parsed shop books and post definitions by hash. */
export class ParsedBooks {
  private readonly books = new Kept<Result<ShopBook>>(BOOKS_KEPT);
  private readonly posts = new Kept<Result<PostDefinition>>(BOOKS_KEPT);

  book({ sha256, json }: SheetBook): Result<ShopBook> {
    return this.books.get(sha256, () => parseShopBook(json));
  }

  post({ sha256, json }: SheetBook): Result<PostDefinition> {
    return this.posts.get(sha256, () => parsePost(json));
  }
}
