export { openStore } from './open-store.js';
export type { RefusalCode } from './refusal.js';
export { StorageError } from './storage-error.js';
export type { Store } from './store.js';
