import { createHash } from 'node:crypto';
import type { FileRef } from '@gapwright/records';
import type { Kysely } from 'kysely';
import { Refusal } from '../refusal.js';
import { StorageError } from '../storage-error.js';
import type { Tables } from '../tables.js';

export function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex');
}

/** Keeps bytes under their SHA-256. Keeping the same bytes again does nothing. */
export async function keepFile(db: Kysely<Tables>, bytes: Uint8Array): Promise<string> {
  const sha256 = sha256Of(bytes);
  await db
    .insertInto('files')
    .values({ sha256, byte_length: bytes.byteLength, bytes: asBuffer(bytes) })
    .onConflict((conflict) => conflict.column('sha256').doNothing())
    .execute();
  return sha256;
}

/** Bytes of a kept file; null when there is none. What the disk gives back is checked against its name. */
export async function readFile(db: Kysely<Tables>, sha256: string): Promise<Uint8Array | null> {
  const row = await db.selectFrom('files').select('bytes').where('sha256', '=', sha256).executeTakeFirst();
  if (row === undefined) return null;
  if (sha256Of(row.bytes) !== sha256) {
    throw new StorageError(
      `File ${sha256} is damaged on the disk. Put back the last copy of the database that was whole, and check the disk.`,
    );
  }
  return row.bytes;
}

/** Length of a kept file without reading it; null when there is none. */
export async function fileLength(db: Kysely<Tables>, sha256: string): Promise<number | null> {
  const row = await db.selectFrom('files').select('byte_length').where('sha256', '=', sha256).executeTakeFirst();
  return row?.byte_length ?? null;
}

/** Refuses a reference to bytes the store does not have, so that nothing kept ever points at nothing. */
export async function checkFileRef(db: Kysely<Tables>, what: string, ref: FileRef): Promise<void> {
  const byteLength = await fileLength(db, ref.sha256);
  if (byteLength === null) {
    throw new Refusal('STORE-FILE-UNKNOWN', `The ${what} ${ref.fileName} has not been sent yet`, 'Send the file first');
  }
  if (byteLength !== ref.byteLength) {
    throw new Refusal(
      'STORE-FILE-DIFFERS',
      `The ${what} ${ref.fileName} has ${byteLength} bytes, not ${ref.byteLength}`,
      'Name the length of the file that was sent',
    );
  }
}

function asBuffer(bytes: Uint8Array): Buffer {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
}
