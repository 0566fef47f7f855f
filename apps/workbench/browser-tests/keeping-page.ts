import { HttpApi } from '../src/keeping/http-api.js';
import { IdbStorage } from '../src/keeping/idb-storage.js';
import { KeepingSession } from '../src/keeping/session.js';
import { sha256Of } from '../src/keeping/sha256.js';
import { BrowserTabs } from '../src/keeping/tabs.js';

declare global {
  /** The keeping of this page, with nothing on screen. */
  var keeping: KeepingSession;
  var openKeeping: (deviceName: string) => Promise<void>;
}

const BOOK_KINDS = ['shop-book', 'technology-book', 'post'] as const;

/** Opens what the page opens, on the same database, locks and channel, so that a test can ask it directly. */
globalThis.openKeeping = async (deviceName) => {
  const text = '{}\n';
  const sha256 = await sha256Of(text);
  globalThis.keeping = await KeepingSession.open(
    {
      storage: await IdbStorage.open(() => undefined),
      tabs: new BrowserTabs(),
      startingBooks: BOOK_KINDS.map((kind) => ({ kind, sha256, text })),
      deviceName: () => deviceName,
      now: () => new Date(),
      newId: () => crypto.randomUUID(),
    },
    new HttpApi(),
  );
};
