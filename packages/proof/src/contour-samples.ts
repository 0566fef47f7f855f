import { type Point, pointAt, segmentLengthMm, tangentAt } from '@gapwright/geometry';
import { distanceTo } from './distance.js';
import { leftOf } from './offset-block.js';
import type { PartFeature } from './part.js';
import { REACH_MM } from './tolerances.js';

/** A place on the contour that stands for a short stretch of it. */
export interface ContourSample {
  readonly at: Point;
  /** Distance along the contour from its start, mm. */
  readonly positionMm: number;
  /** Length of the stretch it stands for, mm. */
  readonly stretchMm: number;
  /** False where a disc of the largest offset or the agreed corner radius cannot touch this place, in and near inside corners. */
  readonly reachable: boolean;
}

/** Most samples a contour gets beyond one per segment. */
const SAMPLES = 600;

/** Places along a contour, at least one per segment and none farther apart than `spacingMm`. */
export function sampleContour(f: PartFeature, discMm: number, spacingMm: number): ContourSample[] {
  let total = 0;
  for (const s of f.contour.segments) total += segmentLengthMm(s);
  const step = Math.min(spacingMm, Math.max(total / SAMPLES, 0.02));
  const out: ContourSample[] = [];
  let walked = 0;
  for (const s of f.contour.segments) {
    const length = segmentLengthMm(s);
    const count = Math.max(1, Math.ceil(length / step));
    for (let k = 0; k < count; k++) {
      const t = (k + 0.5) / count;
      const at = pointAt(s, t);
      const n = leftOf(tangentAt(s, t));
      const x = at.x + n.x * f.wireSign * discMm;
      const y = at.y + n.y * f.wireSign * discMm;
      const blocked = f.tree.least(x, y, discMm - REACH_MM, (i) => distanceTo(f.contour.segments[i]!, x, y));
      out.push({ at, positionMm: walked + t * length, stretchMm: length / count, reachable: blocked.index < 0 });
    }
    walked += length;
  }
  return out;
}
