import { useSyncExternalStore } from 'react';
import { type OfflineState, offlineState, onOfflineChange } from './service-worker.js';

export { keepPageOffline, type OfflineState, offlineState, onOfflineChange, reloadToUpdate } from './service-worker.js';

/** Whether the page opens without the server, and whether a newer one waits. */
export const useOffline = (): OfflineState => useSyncExternalStore(onOfflineChange, offlineState);
