export * from './contour.js';
export * from './point.js';
export * from './segment.js';
