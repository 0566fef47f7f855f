export { DisplayProvider, useDisplay } from './display.js';
export * from './length.js';
export * from './numbers.js';
