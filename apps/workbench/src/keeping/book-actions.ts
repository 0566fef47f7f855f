import type { BookKind } from '@gapwright/records';
import type { Keeper } from './keeper.js';
import { plainText } from './plain-text.js';
import { bookKey } from './rows.js';
import type { ServerApi } from './server-api.js';
import { sha256Of } from './sha256.js';
import { enqueue } from './steps.js';

/** The schema of a version allows no more letters. */
const LONGEST_SAYS = 500;

/** Text of a book from this device, else from the server. */
async function textOf(keeper: Keeper, api: ServerApi, sha256: string): Promise<string> {
  const here = keeper.bookText(sha256);
  if (here !== undefined) return here;
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(await api.fileBytes(sha256));
  if ((await sha256Of(text)) !== sha256) throw new Error('The book arrived damaged. Try again.');
  await keeper.commit(async (tx) => {
    for (const row of await tx.all('books')) if (row.sha256 === sha256) await tx.put('books', { ...row, text });
  });
  return text;
}

export function makeBookActions(keeper: Keeper, api: ServerApi) {
  /** A version on top of the one in use. */
  const save = async (kind: BookKind, text: string, says: string): Promise<void> => {
    const sha256 = await sha256Of(text);
    const { madeAt, madeBy } = keeper.making();
    await keeper.inLine(async (tx) => {
      const parent = keeper.snapshot().books[kind].sha256;
      if (parent === sha256) return;
      const version = { kind, sha256, parent, madeAt, madeBy, says: plainText(says, LONGEST_SAYS) };
      const key = bookKey(version);
      await tx.put('books', { key, sha256, kind, version, kept: null, text });
      await enqueue(tx, 'book', key, null);
    });
  };
  return {
    async bookJson(sha256: string): Promise<unknown> {
      return keeper.parsedBook(sha256, await textOf(keeper, api, sha256));
    },
    saveBook: (kind: BookKind, json: unknown, says: string): Promise<void> =>
      save(kind, `${JSON.stringify(json, null, 2)}\n`, says),
    /** Brings an earlier version, or one that was saved beside, into use again as it is. */
    async bringBackBook(kind: BookKind, sha256: string): Promise<void> {
      const version = keeper.snapshot().versions[kind].find((known) => known.sha256 === sha256);
      const of = version === undefined ? '' : ` of ${version.madeAt.slice(0, 10)} by ${version.madeBy}`;
      await save(kind, await textOf(keeper, api, sha256), `In use again: the version${of}`);
    },
  };
}
