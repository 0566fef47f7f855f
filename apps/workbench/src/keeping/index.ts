export * from './hooks.js';
export type { Snapshot } from './keeper.js';
export type * from './keeping.js';
export type { Notice } from './notices.js';
export { KeepingProvider, useSettings } from './provider.js';
export type { Settings } from './settings.js';
