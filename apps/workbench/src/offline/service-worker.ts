/** What is known of the copy of the page the browser keeps for work without the server. */
export interface OfflineState {
  /** True once the page opens without the server. */
  readonly isReady: boolean;
  /** True when a newer version of the page waits. */
  readonly isUpdateWaiting: boolean;
}

/** How often a page that stays open looks for a newer version. */
const LOOK_EVERY_MS = 30 * 60_000;

let state: OfflineState = { isReady: false, isUpdateWaiting: false };
let waiting: ServiceWorker | null = null;
let isReloadWanted = false;
const listeners = new Set<() => void>();

function change(next: Partial<OfflineState>): void {
  state = { ...state, ...next };
  for (const listener of listeners) listener();
}

export const offlineState = (): OfflineState => state;

export function onOfflineChange(listener: () => void): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

function watch(registration: ServiceWorkerRegistration): void {
  const look = (): void => {
    // The very first worker replaces nothing, so it is no update.
    if (registration.waiting === null || navigator.serviceWorker.controller === null) return;
    waiting = registration.waiting;
    change({ isUpdateWaiting: true });
  };
  look();
  registration.addEventListener('updatefound', () => {
    registration.installing?.addEventListener('statechange', look);
  });
  setInterval(() => void registration.update().catch(() => undefined), LOOK_EVERY_MS);
}

/** Keeps a copy of the built page in the browser. Does nothing while the page is being developed. */
export async function keepPageOffline(): Promise<void> {
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return;
  let hadWorker = navigator.serviceWorker.controller !== null;
  navigator.serviceWorker.addEventListener('controllerchange', () => {
    if (isReloadWanted) location.reload();
    // Another tab changed to the newer version; parts of this one that are not loaded yet are gone.
    else if (hadWorker) change({ isUpdateWaiting: true });
    hadWorker = true;
  });
  try {
    watch(await navigator.serviceWorker.register('/sw.js'));
    await navigator.serviceWorker.ready;
    change({ isReady: true });
  } catch {
    // Blocked by the browser or no secure address: the page then needs the server to open, and says it is not ready.
  }
}

/** Changes to the newer version. `whenKept` has to resolve first: then every edit is on the disk. */
export async function reloadToUpdate(whenKept: Promise<unknown>): Promise<void> {
  await whenKept;
  isReloadWanted = true;
  if (waiting === null || waiting.state !== 'installed') location.reload();
  else waiting.postMessage({ type: 'SKIP_WAITING' });
}
