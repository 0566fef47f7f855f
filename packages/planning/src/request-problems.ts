import { type Problem, problem } from '@gapwright/base';
import { type Contour, selfIntersections } from '@gapwright/geometry';
import type { Material, ShopBook } from '@gapwright/process';
import type { WireRequest } from './plan.js';

/** Points of a drawing nearer than this are one point, mm. */
const MERGE_MM = 1e-6;
/** More crossings than this say nothing new. */
const MOST_NAMED = 5;

/** What is wrong with the request itself. */
export function requestProblems(request: WireRequest, material: Material | undefined, book: ShopBook): Problem[] {
  const out: Problem[] = [];
  const stop = (code: string, field: keyof WireRequest, what: string, fix: string): void => {
    out.push(problem({ code, severity: 'stop', what, fix, at: { field } }));
  };
  if (material === undefined) {
    const known = book.materials.map((m) => m.id).join(', ');
    stop(
      'PLAN-MATERIAL-UNKNOWN',
      'materialId',
      `Material "${request.materialId}" is not in the shop book`,
      `Choose one of ${known}`,
    );
  } else if (!material.isConductive) {
    const what = `${material.name} does not conduct, so it cannot be spark-eroded`;
    stop('WIRE-NOT-CONDUCTIVE', 'materialId', what, 'Choose another process');
  }
  const positive: (keyof WireRequest)[] = ['heightMm', 'raUm', 'toleranceMm', 'quantity'];
  if (request.recastMaxUm !== undefined) positive.push('recastMaxUm');
  if (request.stack !== undefined) positive.push('stack');
  for (const field of positive) {
    const value = request[field];
    if (typeof value !== 'number' || !Number.isFinite(value) || value <= 0) {
      stop('PLAN-BAD-NUMBER', field, `${field} is ${String(value)}`, 'Give a number above 0');
    }
  }
  for (const field of ['quantity', 'stack'] as const) {
    const value = request[field];
    if (value !== undefined && value > 0 && !Number.isInteger(value)) {
      stop('PLAN-BAD-NUMBER', field, `${field} is ${value}`, 'Give a whole number');
    }
  }
  const agreed = request.agreedCornerRadiusMm;
  if (agreed !== undefined && !(Number.isFinite(agreed) && agreed >= 0)) {
    stop('PLAN-BAD-NUMBER', 'agreedCornerRadiusMm', `agreedCornerRadiusMm is ${agreed}`, 'Give a radius of 0 or more');
  }
  const { plate } = request;
  if (plate !== undefined && !(plate.maxX > plate.minX && plate.maxY > plate.minY)) {
    stop('PLAN-BAD-PLATE', 'plate', 'The plate has no width or height', 'Give its lower left and upper right corner');
  }
  return out;
}

/** Contours that cross themselves enclose nothing definite. */
export function contourProblems(lines: readonly Contour[]): Problem[] {
  const out: Problem[] = [];
  for (const c of lines) {
    // A contour of lines that turns one way only, or a circle, cannot cross itself; all others are looked at.
    const points = selfIntersections(c, MERGE_MM);
    const first = points[0];
    if (first === undefined) continue;
    const more = points.length > 1 ? ` and at ${points.length - 1} more places` : '';
    const what = `A contour crosses or touches itself at (${first.x.toFixed(2)}, ${first.y.toFixed(2)})${more}`;
    const fix = 'Correct the drawing';
    out.push(
      problem({ code: 'PLAN-CONTOUR-CROSSES', severity: 'stop', what, fix, at: { xMm: first.x, yMm: first.y } }),
    );
    if (out.length === MOST_NAMED) break;
  }
  return out;
}
