import { lineOf } from './ancestry.js';
import { type DeviceExport, fromBase64 } from './export.js';
import { bookKey, type JobRow } from './rows.js';
import { sha256Of } from './sha256.js';
import { enqueue } from './steps.js';
import type { Transaction } from './storage.js';

const NOT_OURS = 'This file is no export of a device. Choose a file that was saved with "Export everything".';

/** Reads and checks an export; throws with one sentence when anything in it is not whole. */
export async function readExport(text: string): Promise<DeviceExport> {
  let data: Partial<DeviceExport>;
  try {
    data = JSON.parse(text) as Partial<DeviceExport>;
  } catch {
    throw new Error(NOT_OURS);
  }
  if (data === null || typeof data !== 'object' || data.gapwrightDevice !== 1) throw new Error(NOT_OURS);
  // The schemas load beside the page; see the HTTP client.
  const records = await import('@gapwright/records');
  const list = <T>(name: keyof DeviceExport, check: (item: unknown) => T): T[] => {
    const items: unknown = data[name];
    if (!Array.isArray(items)) throw new Error(`The export has no list of ${name}. Export again.`);
    return items.map((item: unknown, index) => {
      try {
        return check(item);
      } catch {
        throw new Error(`The export is damaged: entry ${index + 1} of ${name} is not understood. Export again.`);
      }
    });
  };
  const part = (item: unknown, name: string): string => {
    const value = (item as Record<string, unknown>)[name];
    if (typeof value !== 'string') throw new Error(name);
    return value;
  };
  const read: DeviceExport = {
    gapwrightDevice: 1,
    exportedAt: String(data.exportedAt),
    storeId: typeof data.storeId === 'string' ? data.storeId : null,
    jobs: list('jobs', (item) => ({ jobId: part(item, 'jobId'), headId: part(item, 'headId') })),
    revisions: list('revisions', (item) => records.revisionSchema.parse(item)),
    books: list('books', (item) => ({
      version: records.bookVersionSchema.parse((item as { version: unknown }).version),
      text: part(item, 'text'),
    })),
    burns: list('burns', (item) => records.burnRecordSchema.parse(item)),
    offers: list('offers', (item) => records.offerRecordSchema.parse(item)),
    files: list('files', (item) => ({
      sha256: part(item, 'sha256'),
      fileName: part(item, 'fileName'),
      base64: part(item, 'base64'),
    })),
  };
  for (const { sha256, fileName, base64 } of read.files) {
    if ((await sha256Of(fromBase64(base64))) !== sha256)
      throw new Error(`The file ${fileName} in the export is damaged.`);
  }
  for (const { version, text: book } of read.books) {
    if ((await sha256Of(book)) !== version.sha256) throw new Error(`The ${version.kind} in the export is damaged.`);
  }
  return read;
}

/** Adds an export to what this device has; nothing here is replaced. Everything new is put in line for the server. */
export async function takeExport(tx: Transaction, data: DeviceExport): Promise<void> {
  for (const { sha256, fileName, base64 } of data.files) {
    if ((await tx.get('files', sha256)) === undefined) {
      await tx.put('files', { sha256, fileName, bytes: fromBase64(base64) });
    }
  }
  for (const { jobId, headId } of data.jobs) await takeJob(tx, data, jobId, headId);
  for (const { version, text } of data.books) {
    const key = bookKey(version);
    if ((await tx.get('books', key)) !== undefined) continue;
    await tx.put('books', { key, sha256: version.sha256, kind: version.kind, version, kept: null, text });
    await enqueue(tx, 'book', key, null);
  }
  for (const record of data.burns) {
    if ((await tx.get('burns', record.id)) !== undefined) continue;
    await tx.put('burns', { id: record.id, record, kept: null });
    await enqueue(tx, 'burn', record.id, null);
  }
  for (const offer of data.offers) {
    if ((await tx.get('offers', offer.id)) === undefined) {
      await tx.put('offers', { id: offer.id, jobId: offer.jobId, offer });
    }
  }
}

async function takeJob(tx: Transaction, data: DeviceExport, jobId: string, headId: string): Promise<void> {
  const revisions = data.revisions.filter((revision) => revision.jobId === jobId);
  const known = new Map([
    ...revisions.map((revision) => [revision.id, revision] as const),
    ...(await tx.revisionsOf(jobId)).map((row) => [row.id, row.revision] as const),
  ]);
  // Parents first.
  const line = [...lineOf(headId, known)].reverse().flatMap((id) => known.get(id) ?? []);
  line.sort((a, b) => lineOf(a.id, known).size - lineOf(b.id, known).size);
  if (!line.some((revision) => revision.id === headId)) return;
  for (const revision of line) {
    if ((await tx.get('revisions', revision.id)) !== undefined) continue;
    if (revision.drawing !== null && (await tx.get('files', revision.drawing.sha256)) !== undefined) {
      await enqueue(tx, 'file', revision.drawing.sha256, jobId);
    }
    await tx.put('revisions', { id: revision.id, jobId, revision, kept: null });
    await enqueue(tx, 'revision', revision.id, jobId);
  }
  const job = await tx.get('jobs', jobId);
  const empty = { serverHeadId: null, asideIds: [], serverRevisionCount: 0, undo: [], redo: [] };
  const row: JobRow = job ?? { jobId, headId, ...empty };
  // Where both went on from one state, the server keeps the imported one aside, to be joined or settled.
  const goesOn = lineOf(headId, known).has(row.headId);
  await tx.put('jobs', { ...row, headId: goesOn ? headId : row.headId });
}
