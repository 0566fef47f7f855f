/** The disk or the database failed, or another program holds it. Nothing was kept; `message` is one clear sentence. */
export class StorageError extends Error {
  override readonly name = 'StorageError';
}
