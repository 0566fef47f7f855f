export { distinctShapes } from './distinct-shapes.js';
export type { DrawnContour } from './features.js';
export * from './plan.js';
export { planWire } from './plan-wire.js';
export { drawnFeaturesOf, proofSetupOf } from './proof-setup.js';
