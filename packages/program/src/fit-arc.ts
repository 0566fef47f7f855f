import { type ArcSegment, type Point, pointAt } from '@gapwright/geometry';

/** An arc on the grid of a post's last digit: ends and centre in whole counts. */
interface FittedArc {
  readonly centre: Point;
  readonly clockwise: boolean;
}

/** What became of an arc whose ends were rounded. `line`: it bulges less than a count, so its chord stands for it. */
export type ArcFit = FittedArc | 'line' | { readonly deviationCounts: number };

/**
 * Counts searched on each side of the best unrounded centre. Rounding moves a centre by at most 0.71 counts; three
 * leave room for a neighbour that makes both radii agree better.
 */
const SEARCH_COUNTS = 3;
/** Radii at start and end may differ by one count of the last digit, and the middle may move by as much. */
const ALLOWED_COUNTS = 1;

/**
 * Finds the grid centre of an arc whose ends have been rounded to `from` and `to` (whole counts; `gridMm` is one count).
 *
 * The old centre no longer has equal distance to both rounded ends. It is moved to their bisector, then the grid point
 * near it is taken for which the two radii differ least and the arc's middle stays nearest to where it was.
 */
export function fitArc(arc: ArcSegment, from: Point, to: Point, gridMm: number, largestRadiusMm: number): ArcFit {
  const chordX = to.x - from.x;
  const chordY = to.y - from.y;
  const chord = Math.sqrt(chordX * chordX + chordY * chordY);
  // Unit normal left of the chord; everything across the chord is measured along it from the chord's middle.
  const nx = -chordY / chord;
  const ny = chordX / chord;
  const mx = (from.x + to.x) / 2;
  const my = (from.y + to.y) / 2;
  const across = (x: number, y: number): number => (x - mx) * nx + (y - my) * ny;
  const middle = pointAt(arc, 0.5);
  const bulge = across(middle.x / gridMm, middle.y / gridMm);
  const clockwise = arc.sweepRad < 0;
  const height = across(arc.centre.x / gridMm, arc.centre.y / gridMm);
  const besideX = Math.round(mx + nx * height);
  const besideY = Math.round(my + ny * height);
  let best: Point | null = null;
  let bestCost = Number.POSITIVE_INFINITY;
  let leastDeviation = Number.POSITIVE_INFINITY;
  for (let x = besideX - SEARCH_COUNTS; x <= besideX + SEARCH_COUNTS; x++) {
    for (let y = besideY - SEARCH_COUNTS; y <= besideY + SEARCH_COUNTS; y++) {
      const startRadius = Math.sqrt((x - from.x) * (x - from.x) + (y - from.y) * (y - from.y));
      const endRadius = Math.sqrt((x - to.x) * (x - to.x) + (y - to.y) * (y - to.y));
      if (startRadius === 0 || endRadius === 0) continue;
      const mismatch = Math.abs(startRadius - endRadius);
      const radius = (startRadius + endRadius) / 2;
      // Counter-clockwise arcs bulge to the right of their chord, away from a centre on the left.
      const newBulge = across(x, y) + (clockwise ? radius : -radius);
      const deviation = Math.max(mismatch, Math.abs(newBulge - bulge));
      leastDeviation = Math.min(leastDeviation, deviation);
      if (deviation > ALLOWED_COUNTS) continue;
      const cost = mismatch + Math.abs(newBulge - bulge);
      if (cost < bestCost) {
        bestCost = cost;
        best = { x, y };
      }
    }
  }
  const isFlat = Math.abs(bulge) <= ALLOWED_COUNTS;
  if (best !== null && (arc.radiusMm <= largestRadiusMm || !isFlat)) return { centre: best, clockwise };
  return isFlat ? 'line' : { deviationCounts: leastDeviation };
}
