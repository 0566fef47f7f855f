import { apiErrorSchema } from '@gapwright/records';
import type { Store } from '@gapwright/store';
import type { ChangeFeed } from '../change-feed.js';
import type { ComputePool } from '../compute/compute-pool.js';

/** What the routes work with. */
export interface RouteContext {
  readonly store: Store;
  readonly feed: ChangeFeed;
  readonly compute: ComputePool;
  /** Version of the program. */
  readonly version: string;
}

/** Every route answers errors the same way. */
export const ERRORS = { '4xx': apiErrorSchema, '5xx': apiErrorSchema } as const;

/** Largest JSON body of an ordinary record, bytes: the texts of a job are limited to 40,000 letters together. */
export const MOST_RECORD_BYTES = 1024 * 1024;

/** Largest text of a book, bytes: a technology book of 10,000 burns has about 5 MB. */
export const MOST_BOOK_BYTES = 32 * 1024 * 1024;
