import { z } from 'zod';
import { sha256Schema } from './revision.js';

/** Books the shop keeps: what it has and believes. */
export const BOOK_KINDS = ['shop-book', 'technology-book', 'post'] as const;
export const bookKindSchema = z.enum(BOOK_KINDS);
export type BookKind = z.infer<typeof bookKindSchema>;

/** One version of a book. Its name is the SHA-256 of its JSON text (UTF-8), which is kept as a file. */
export const bookVersionSchema = z.strictObject({
  kind: bookKindSchema,
  sha256: sha256Schema,
  /** The version it was made from; null for the first. */
  parent: sha256Schema.nullable(),
  madeAt: z.iso.datetime(),
  madeBy: z.string().min(1).max(80),
  /** What changed and why. */
  says: z.string().max(500),
});
export type BookVersion = z.infer<typeof bookVersionSchema>;

export const keptBookVersionSchema = bookVersionSchema.extend({
  sequence: z.int().positive(),
  isCurrent: z.boolean(),
});
export type KeptBookVersion = z.infer<typeof keptBookVersionSchema>;
