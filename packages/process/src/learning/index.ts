export * from './conformal.js';
export * from './regression/learn-from-table.js';
export * from './regression/learn-regression.js';
export * from './regression/replicates.js';
export * from './scores.js';
export * from './table/choose-columns.js';
export * from './table/read-table.js';
