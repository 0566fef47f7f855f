export * from './setup.js';
