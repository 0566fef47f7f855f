import { type Problem, problem } from '@gapwright/base';
import { parseShopBook, parseTechnologyBook } from '@gapwright/process';
import { parsePost } from '@gapwright/program';
import type { BookKind } from '@gapwright/records';

/** What is wrong with a book or a post definition, as its own room says it. */
export function checkBook(kind: BookKind, json: unknown): readonly Problem[] {
  switch (kind) {
    case 'shop-book':
      return parseShopBook(json).problems;
    case 'technology-book':
      return typeof json === 'object' && json !== null ? parseTechnologyBook(json).problems : [notABook()];
    case 'post':
      return parsePost(json).problems;
  }
}

function notABook(): Problem {
  return problem({
    code: 'BOOK-NOT-A-BOOK',
    severity: 'stop',
    what: 'This is no technology book',
    fix: 'Give one written by gapwright book import',
  });
}
