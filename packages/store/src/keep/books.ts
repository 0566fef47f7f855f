import { type BookKind, type BookVersion, bookVersionSchema, type KeptBookVersion } from '@gapwright/records';
import type { Kysely, Selectable } from 'kysely';
import { Refusal } from '../refusal.js';
import type { BookVersionTable, Tables } from '../tables.js';
import { checkText, isSameJson } from './exact-text.js';
import { keepFile, readFile, sha256Of } from './files.js';
import { nextSequence } from './sequence.js';

/**
 * Keeps a version of a book with its text. A version made from the one in use comes into use; one made from an older
 * one is kept without coming into use, so that a device that was away long never brings back old rates. An earlier
 * text may come into use again: that is a new entry under the same hash.
 */
export async function keepBook(db: Kysely<Tables>, version: BookVersion, text: string): Promise<KeptBookVersion> {
  const { kind, sha256, parent, madeAt, madeBy, says } = version;
  const bytes = new TextEncoder().encode(text);
  if (sha256Of(bytes) !== sha256) {
    throw new Refusal(
      'STORE-HASH-WRONG',
      `The text of the ${kind} does not have the SHA-256 ${sha256}`,
      'Name the hash of the text as it is sent, in UTF-8',
    );
  }
  checkText({ madeBy, says });
  const before = await readBooks(db, kind);
  const same = before.find((kept) => isSameJson(bookVersionSchema.parse(withoutPlace(kept)), version));
  // Two devices that came to the same text have nothing to settle.
  const current = before.find((kept) => kept.isCurrent);
  const known = same ?? (current?.sha256 === sha256 ? current : undefined);
  if (known !== undefined) return known;
  const sequence = await nextSequence(db);
  if (parent !== null && !before.some((kept) => kept.sha256 === parent)) {
    throw new Refusal(
      'STORE-PARENT-UNKNOWN',
      `The ${kind} was made from version ${parent}, which has not been sent yet`,
      'Send that one first',
    );
  }
  await keepFile(db, bytes);
  await db
    .insertInto('book_versions')
    .values({
      sequence,
      kind,
      sha256,
      parent_sha256: parent,
      made_at: madeAt,
      made_by: madeBy,
      says,
      took_over: current === undefined || current.sha256 === parent ? 1 : 0,
    })
    .execute();
  return (await readBooks(db, kind)).find((kept) => kept.sequence === sequence)!;
}

/** All versions of a kind, newest first. */
export async function readBooks(db: Kysely<Tables>, kind: BookKind): Promise<KeptBookVersion[]> {
  const rows = await db
    .selectFrom('book_versions')
    .selectAll()
    .where('kind', '=', kind)
    .orderBy('sequence', 'desc')
    .execute();
  const current = rows.find((row) => row.took_over === 1);
  return rows.map((row) => keptBook(row, row === current));
}

/** Text of a version; null when the shop never had it. */
export async function readBookText(db: Kysely<Tables>, kind: BookKind, sha256: string): Promise<string | null> {
  const known = await db
    .selectFrom('book_versions')
    .select('sequence')
    .where('kind', '=', kind)
    .where('sha256', '=', sha256)
    .executeTakeFirst();
  const bytes = known === undefined ? null : await readFile(db, sha256);
  return bytes === null ? null : new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
}

function keptBook(row: Selectable<BookVersionTable>, isCurrent: boolean): KeptBookVersion {
  return {
    ...bookVersionSchema.parse({
      kind: row.kind,
      sha256: row.sha256,
      parent: row.parent_sha256,
      madeAt: row.made_at,
      madeBy: row.made_by,
      says: row.says,
    }),
    sequence: row.sequence,
    isCurrent,
  };
}

function withoutPlace({ sequence: _, isCurrent: __, ...version }: KeptBookVersion): BookVersion {
  return version;
}
