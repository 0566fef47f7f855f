export * from './contour.js';
export { type Intersections, intersectSegments } from './intersect.js';
export { OFFSET_MERGE_MM, type OffsetOptions, offsetContour } from './offset.js';
export * from './point.js';
export * from './segment.js';
export { indexSegments, type NearestPlace, SegmentIndex } from './segment-index.js';
export { selfIntersections } from './self-intersections.js';
