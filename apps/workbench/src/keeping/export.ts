import { keyOf, type Rows, STORE_NAMES, type StoreName } from './rows.js';
import type { Transaction } from './storage.js';

/** Everything a device keeps, as one JSON file. */
export interface DeviceExport {
  readonly gapwrightDevice: 1;
  readonly exportedAt: string;
  readonly storeId: string | null;
  readonly jobs: readonly { readonly jobId: string; readonly headId: string }[];
  readonly revisions: readonly Rows['revisions']['revision'][];
  readonly books: readonly { readonly version: Rows['books']['version']; readonly text: string }[];
  readonly burns: readonly Rows['burns']['record'][];
  readonly offers: readonly Rows['offers']['offer'][];
  readonly files: readonly { readonly sha256: string; readonly fileName: string; readonly base64: string }[];
}

/** Bytes turned into text at once; more arguments than this overflow the stack. */
const CHUNK = 32_768;

function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (let at = 0; at < bytes.length; at += CHUNK) text += String.fromCharCode(...bytes.subarray(at, at + CHUNK));
  return btoa(text);
}

export function fromBase64(text: string): Uint8Array {
  return Uint8Array.from(atob(text), (character) => character.charCodeAt(0));
}

export async function exportText(tx: Transaction, now: Date): Promise<string> {
  const store = await tx.get('meta', 'store');
  const burns = await tx.all('burns');
  const waiting = new Map((await tx.all('outbox')).map((row) => [row.key, row.order]));
  // A correction comes after what it corrects.
  const place = (row: Rows['burns']): number => row.kept?.sequence ?? 1e9 + (waiting.get(`burn:${row.id}`) ?? 0);
  const everything: DeviceExport = {
    gapwrightDevice: 1,
    exportedAt: now.toISOString(),
    storeId: store?.storeId ?? null,
    jobs: (await tx.all('jobs')).map(({ jobId, headId }) => ({ jobId, headId })),
    revisions: (await tx.all('revisions')).map((row) => row.revision),
    books: (await tx.all('books')).flatMap(({ version, text }) => (text === null ? [] : [{ version, text }])),
    burns: burns.sort((a, b) => place(a) - place(b)).map((row) => row.record),
    offers: (await tx.all('offers')).map((row) => row.offer),
    files: (await tx.all('files')).map(({ sha256, fileName, bytes }) => ({
      sha256,
      fileName,
      base64: toBase64(bytes),
    })),
  };
  return JSON.stringify(everything);
}

const STAYS: readonly StoreName[] = ['setAside', 'meta'];

/** Puts everything into one row that is never removed, and starts empty with another store. */
export async function setAside(tx: Transaction, storeId: string, now: Date): Promise<void> {
  const before = await tx.get('meta', 'store');
  const text = await exportText(tx, now);
  await tx.put('setAside', { key: now.toISOString(), storeId: before?.storeId ?? null, text });
  for (const store of STORE_NAMES) {
    if (STAYS.includes(store)) continue;
    for (const row of await tx.all(store)) await tx.remove(store, keyOf(store, row));
  }
  await tx.put('meta', { key: 'store', storeId, value: 0 });
}
