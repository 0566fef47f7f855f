export * from './hooks.js';
export type * from './keeping.js';
export { KeepingProvider, useSettings } from './provider.js';
export type { Settings } from './settings.js';
