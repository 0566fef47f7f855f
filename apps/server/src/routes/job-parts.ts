import type { BookKind, FileRef } from '@gapwright/records';
import type { Store } from '@gapwright/store';
import { ApiFault } from '../api-fault.js';
import type { JobParts } from '../compute/compute-task.js';

/** Fetches what a job run needs; says what has to be sent first when something is not here. */
export async function fetchJobParts(
  store: Store,
  content: unknown,
  drawing: Pick<FileRef, 'sha256' | 'fileName'>,
  books: { readonly bookSha256: string; readonly postSha256: string },
): Promise<JobParts> {
  const bytes = await store.file(drawing.sha256);
  if (bytes === null) {
    throw new ApiFault(
      409,
      'STORE-FILE-UNKNOWN',
      `Drawing ${drawing.fileName} has not been sent yet. Send the file first.`,
    );
  }
  return {
    content,
    drawing: { fileName: drawing.fileName, bytes },
    bookText: await textOf(store, 'shop-book', books.bookSha256),
    postText: await textOf(store, 'post', books.postSha256),
  };
}

async function textOf(store: Store, kind: BookKind, sha256: string): Promise<string> {
  const text = await store.bookText(kind, sha256);
  if (text !== null) return text;
  throw new ApiFault(
    409,
    'STORE-BOOK-UNKNOWN',
    `There is no version ${sha256} of the ${kind}. Send the version first.`,
  );
}
