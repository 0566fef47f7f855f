import { createContext, type ReactNode, useContext, useEffect, useState, useSyncExternalStore } from 'react';
import { keepPageOffline, offlineState, onOfflineChange, reloadToUpdate } from '../offline/index.js';
import { HttpApi } from './http-api.js';
import { IdbStorage } from './idb-storage.js';
import { MemoryStorage } from './memory-storage.js';
import { KeepingSession } from './session.js';
import { type Settings, SettingsStore } from './settings.js';
import { fetchStartingBooks } from './starting-books.js';
import type { Storage } from './storage.js';
import { BrowserTabs } from './tabs.js';

/** For what runs before or outside React. */
const settingsStore = new SettingsStore();

const SessionContext = createContext<KeepingSession | null>(null);

const NO_STORAGE =
  'This browser keeps nothing for this page (a private window, or site data is blocked). Edits last until the tab is closed unless the line above says saved.';
const NEWER_PAGE = 'A newer version of this page is open in another tab. Reload this one; nothing is lost.';

async function openSession(): Promise<KeepingSession> {
  const startingBooks = await fetchStartingBooks();
  let session: KeepingSession | null = null;
  const giveWay = (): void => session?.keeper.notices.put({ id: 'newer-page', says: NEWER_PAGE, choices: [] });
  let storage: Storage;
  try {
    storage = await IdbStorage.open(giveWay);
    // Asks the browser not to clear this page's data when the disk gets full; it may say no.
    void navigator.storage?.persist?.();
  } catch {
    storage = new MemoryStorage();
  }
  session = await KeepingSession.open(
    {
      storage,
      tabs: new BrowserTabs(),
      startingBooks,
      deviceName: () => settingsStore.get().deviceName,
      now: () => new Date(),
      newId: () => crypto.randomUUID(),
    },
    new HttpApi(),
  );
  if (!storage.isDurable) session.keeper.notices.put({ id: 'no-storage', says: NO_STORAGE, choices: [] });
  const opened = session;
  const wake = (): void => opened.wake();
  globalThis.addEventListener('online', wake);
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState === 'visible') wake();
  });
  offerUpdates(opened);
  return opened;
}

/** Offers a newer version of the page as soon as one waits; edits are on the disk before it changes. */
function offerUpdates({ keeper }: KeepingSession): void {
  const offer = (): void => {
    if (!offlineState().isUpdateWaiting) return;
    const choose = (): void => void reloadToUpdate(keeper.inLine(async () => undefined));
    const says = 'A newer version of this page is ready. Every edit is kept when you change to it.';
    keeper.notices.put({ id: 'update', says, choices: [{ label: 'Reload', choose }] });
  };
  onOfflineChange(offer);
  void keepPageOffline().then(offer);
}

/** One session for the page, however often React mounts the provider. */
let opening: Promise<KeepingSession> | null = null;

/**
 * Opens what this device keeps and hands it to the page. `waiting` is shown meanwhile (some tens of milliseconds),
 * `failed` when the page could not be completed at all.
 */
export function KeepingProvider(props: {
  readonly children: ReactNode;
  readonly waiting?: ReactNode;
  readonly failed?: (says: string) => ReactNode;
}): ReactNode {
  const [session, setSession] = useState<KeepingSession | null>(null);
  const [failure, setFailure] = useState<string | null>(null);
  useEffect(() => {
    opening ??= openSession();
    let isHere = true;
    opening.then(
      (opened) => isHere && setSession(opened),
      (error: unknown) => {
        opening = null;
        if (isHere) setFailure(error instanceof Error ? error.message : String(error));
      },
    );
    return () => {
      isHere = false;
    };
  }, []);
  if (failure !== null) return props.failed?.(failure) ?? <p role="alert">{failure}</p>;
  if (session === null) return props.waiting ?? null;
  return <SessionContext value={session}>{props.children}</SessionContext>;
}

export function useSession(): KeepingSession {
  const session = useContext(SessionContext);
  if (session === null) throw new Error('Keeping is used outside its provider.');
  return session;
}

/** Settings of this browser, and a way to change some of them. */
export function useSettings(): readonly [Settings, SettingsStore['set']] {
  return [useSyncExternalStore(settingsStore.subscribe, settingsStore.get), settingsStore.set];
}
