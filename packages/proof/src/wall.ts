import { distanceMm, type Point, pointAt, type Segment, segmentBox, segmentLengthMm } from '@gapwright/geometry';
import { closest, largestDistance, type Stretch } from './distance.js';
import { fractionAt } from './offset-block.js';
import type { Part, PartFeature } from './part.js';
import type { Sweep } from './sweep.js';
import { RESOLUTION_MM, SAME_POINT_MM, UNCUT_MM } from './tolerances.js';

export interface Extreme {
  readonly valueMm: number;
  readonly at: Point | null;
}

/**
 * Largest thickness of material left along a contour, by halving stretches until an upper bound over each one proves
 * that no place in it exceeds the best found by more than {@link RESOLUTION_MM}.
 */
export function largestRest(segments: readonly Segment[], sweep: Sweep): Extreme {
  let valueMm = 0;
  let at: Point | null = null;
  const look = (p: Point): number => {
    const c = sweep.clearance(p);
    if (c.value > valueMm) {
      valueMm = c.value;
      at = p;
    }
    return c.index;
  };
  const bound = (s: Stretch, index: number): number =>
    index < 0 ? UNCUT_MM : largestDistance(s, sweep.segments[index]!) - sweep.radii[index]!;
  const halve = (
    piece: Segment,
    t0: number,
    t1: number,
    a: Point,
    b: Point,
    ia: number,
    ib: number,
    halfMm: number,
  ): void => {
    const t = (t0 + t1) / 2;
    const middle = pointAt(piece, t);
    const im = look(middle);
    const stretch = { piece, a, middle, b, halfMm };
    const limit = valueMm + RESOLUTION_MM;
    if (
      halfMm <= SAME_POINT_MM ||
      bound(stretch, im) <= limit ||
      bound(stretch, ia) <= limit ||
      bound(stretch, ib) <= limit
    ) {
      return;
    }
    halve(piece, t0, t, a, middle, ia, im, halfMm / 2);
    halve(piece, t, t1, middle, b, im, ib, halfMm / 2);
  };
  for (const s of segments) {
    halve(s, 0, 1, s.from, s.to, look(s.from), look(s.to), segmentLengthMm(s) / 2);
  }
  return { valueMm, at };
}

/** A piece of the path counts as crossing a contour when it comes nearer than this, mm. */
const CROSSING_MM = 1e-6;

/**
 * Largest undercut per feature: eroded radius minus the exact least distance between path and contour, and radius plus
 * distance where the wire's centre itself runs inside the part (there sampled at five places per piece, a lower bound).
 */
export function largestUndercuts(part: Part, sweep: Sweep): Extreme[] {
  const best = part.features.map(() => ({ valueMm: 0, at: null as Point | null }));
  const crossedRuns = new Set<number>();
  const startedRuns = new Set<number>();
  for (let i = 0; i < sweep.segments.length; i++) {
    const path = sweep.segments[i]!;
    const radius = sweep.radii[i]!;
    const run = sweep.moves[i]!.run;
    if (!startedRuns.has(run)) {
      startedRuns.add(run);
      if (part.isPart(path.from).part) crossedRuns.add(run);
    }
    const box = segmentBox(path);
    for (const f of part.features) {
      const mine = best[f.index]!;
      const reach = radius - mine.valueMm;
      if (reach <= 0 && crossedRuns.has(run)) continue;
      const margin = Math.max(reach, CROSSING_MM);
      f.tree.search(box.minX - margin, box.minY - margin, box.maxX + margin, box.maxY + margin, (k) => {
        const meeting = closest(path, f.contour.segments[k]!);
        if (meeting.distanceMm <= CROSSING_MM) crossedRuns.add(run);
        if (radius - meeting.distanceMm > mine.valueMm) {
          mine.valueMm = radius - meeting.distanceMm;
          mine.at = meeting.onSecond;
        }
      });
    }
  }
  if (crossedRuns.size > 0) addGouges(part, sweep, crossedRuns, best);
  return best;
}

function addGouges(
  part: Part,
  sweep: Sweep,
  runs: ReadonlySet<number>,
  best: { valueMm: number; at: Point | null }[],
): void {
  for (let i = 0; i < sweep.segments.length; i++) {
    if (!runs.has(sweep.moves[i]!.run)) continue;
    for (const t of [0, 0.25, 0.5, 0.75, 1]) {
      const p = pointAt(sweep.segments[i]!, t);
      const where = part.isPart(p);
      const mine = best[where.feature];
      if (!where.part || mine === undefined) continue;
      const depth = sweep.radii[i]! + where.distanceMm;
      if (depth > mine.valueMm) {
        mine.valueMm = depth;
        mine.at = p;
      }
    }
  }
}

/** Distance along a contour from its start to the place nearest to `p`, mm. */
export function positionAlong(f: PartFeature, p: Point): number {
  let walked = 0;
  let bestDistance = Number.POSITIVE_INFINITY;
  let position = 0;
  for (const s of f.contour.segments) {
    const length = segmentLengthMm(s);
    const t = Math.min(1, Math.max(0, fractionAt(s, p)));
    const d = distanceMm(pointAt(s, t), p);
    if (d < bestDistance) {
      bestDistance = d;
      position = walked + t * length;
    }
    walked += length;
  }
  return position;
}
