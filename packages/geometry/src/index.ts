export { chainSegments, isConnected } from './chain.js';
export {
  CHAIN_OPTIONS,
  type Chained,
  type ChainOptions,
  type LoosePiece,
  type Repair,
  type TaggedContour,
} from './chain-types.js';
export { type Approach, closestApproach } from './closest-approach.js';
export * from './contour.js';
export { ellipseCurve, type ParametricCurve } from './curve.js';
export { FIT_TOLERANCE_MM, type FittedArcs, fitArcs } from './fit-arcs.js';
export { type FitPointOptions, splineThroughPoints } from './fit-points.js';
export { boundaryDistanceMm, containsPoint, interiorPoint } from './inside.js';
export { type Intersections, intersectSegments } from './intersect.js';
export { DISC_TOLERANCE_MM, type Disc, discFits, type LargestDisc, largestDisc } from './largest-disc.js';
export { type Nesting, nestContours, type Region, TOUCH_MM } from './nest.js';
export { nurbsCurve } from './nurbs.js';
export { OFFSET_MERGE_MM, type OffsetOptions, offsetContour } from './offset.js';
export * from './point.js';
export * from './segment.js';
export { indexSegments, type NearestPlace, SegmentIndex } from './segment-index.js';
export { selfIntersections } from './self-intersections.js';
export * from './transform.js';
export {
  type InsideArc,
  type InsideCorners,
  insideCorners,
  SHARP_CORNER_RAD,
  type SharpCorner,
  type WireAccess,
  wireAccess,
} from './wire-access.js';
