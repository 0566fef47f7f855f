import type { Problem } from '@gapwright/base';
import { type DrawnContour, type FoundFeatures, findFeatures } from './features.js';
import type { WireRequest } from './plan.js';
import { contourProblems } from './request-problems.js';
import { buildShapes, type DrawnShape } from './shapes.js';

/** What follows from the contours and a few answers of the request alone. */
export interface KnownDrawing {
  readonly found: FoundFeatures;
  readonly problems: readonly Problem[];
  /** Worked out when it is asked for. */
  readonly shapes: () => readonly DrawnShape[];
}

interface Remembered extends KnownDrawing {
  readonly contours: readonly DrawnContour[];
  readonly answers: string;
}

/** The last answer for each list of contours: trying another quantity or hole measures no contour again. */
const remembered = new WeakMap<readonly DrawnContour[], Remembered>();

/**
 * Features, contour problems and shapes of a drawing. Pure: what is remembered is used only for the very same contours
 * and the same answers that decide about them.
 */
export function knownDrawing(contours: readonly DrawnContour[], request: WireRequest): KnownDrawing {
  const { cutLayers, openPartSide, agreedCornerRadiusMm } = request;
  const answers = JSON.stringify([cutLayers ?? null, openPartSide ?? null, agreedCornerRadiusMm ?? 0]);
  const before = remembered.get(contours);
  if (before !== undefined && before.answers === answers && isSame(before.contours, contours)) return before;
  const found = findFeatures(contours, request);
  let shapes: readonly DrawnShape[] | undefined;
  const next: Remembered = {
    contours: [...contours],
    answers,
    found,
    problems: [...found.problems, ...contourProblems(found.lines)],
    shapes: () => (shapes ??= buildShapes(found.cut, found.lines, agreedCornerRadiusMm ?? 0)),
  };
  remembered.set(contours, next);
  return next;
}

function isSame(a: readonly DrawnContour[], b: readonly DrawnContour[]): boolean {
  return a.length === b.length && a.every((d, i) => d === b[i]);
}
