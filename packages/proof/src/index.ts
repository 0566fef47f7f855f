export * from './compensate.js';
export { sweptAreaMm2 } from './eroded-area.js';
export * from './prove.js';
export * from './result.js';
export * from './setup.js';
export { cuttingMoves, radiusOf } from './sweep.js';
export { type Event, type Run, type Walk, type WireMove, walk } from './walk.js';
