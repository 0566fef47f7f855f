export { isDay } from './day.js';
export { type HandOverFile, handOverFiles } from './hand-over-files.js';
