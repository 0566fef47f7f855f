export * from './compensate.js';
export * from './prove.js';
export * from './result.js';
export * from './setup.js';
