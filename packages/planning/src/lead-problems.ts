import { type Problem, problem } from '@gapwright/base';
import {
  type Box,
  closestApproach,
  indexSegments,
  line,
  type Point,
  type Segment,
  segmentBox,
  tangentAt,
} from '@gapwright/geometry';
import type { CutStep } from './cuts.js';
import type { WireFeature, WireOperation } from './plan.js';
import { placeOf } from './wire-problems.js';

/** More places than this are not read. */
const MOST_NAMED = 6;

/**
 * Lead-ins and lead-outs that burn into the contour of another feature, open cuts among them, deeper than the tolerance.
 * Room is looked for when leads are placed; this looks at the steps as they will be written.
 */
export function leadProblems(
  operation: WireOperation,
  features: readonly WireFeature[],
  toleranceMm: number,
): Problem[] {
  const owners: string[] = [];
  const segments: Segment[] = [];
  for (const { id, contour } of features) {
    for (const s of contour.segments) {
      owners.push(id);
      segments.push(s);
    }
  }
  const index = indexSegments(segments);
  const out = new Map<string, Problem>();
  for (const step of operation.steps) {
    if (step.kind !== 'cut') continue;
    const pass = operation.passes[step.pass - 1]!;
    const reachMm = operation.wireDiameterMm / 2 + pass.gapMm.value;
    for (const lead of wireLeads(step, pass.offsetMm.value)) {
      for (const k of index.search(grown(segmentBox(lead), reachMm))) {
        const other = owners[k]!;
        const key = `${step.feature} ${other}`;
        if (other === step.feature || out.has(key)) continue;
        const near = closestApproach(lead, segments[k]!);
        if (reachMm - near.distanceMm <= toleranceMm) continue;
        out.set(key, leadProblem(step.feature, other, near.onSecond, reachMm - near.distanceMm));
      }
    }
  }
  return [...out.values()].slice(0, MOST_NAMED);
}

/** The ways of the wire's centre into a cut and out of it: compensation comes on and goes off square to the path. */
function wireLeads({ leadIn, path, leadOut, side }: CutStep, offsetMm: number): Segment[] {
  const sign = side === 'right' ? 1 : -1;
  const beside = (s: Segment, t: number): Point => {
    const { x, y } = tangentAt(s, t);
    const p = t === 0 ? s.from : s.to;
    return { x: p.x + sign * y * offsetMm, y: p.y - sign * x * offsetMm };
  };
  const first = path[0];
  const last = path[path.length - 1];
  const from = leadIn[0]?.from;
  const to = leadOut[leadOut.length - 1]?.to;
  return [
    ...(first === undefined || from === undefined ? [] : [line(from, beside(first, 0))]),
    ...(last === undefined || to === undefined ? [] : [line(beside(last, 1), to)]),
  ];
}

function grown(b: Box, mm: number): Box {
  return { minX: b.minX - mm, minY: b.minY - mm, maxX: b.maxX + mm, maxY: b.maxY + mm };
}

function leadProblem(feature: string, other: string, at: Point, deepMm: number): Problem {
  const what = `The way into or out of the cut of ${feature} burns ${deepMm.toFixed(3)} mm into ${other} at ${placeOf(at)}`;
  const fix = 'Move the contours apart, cut them in separate jobs, or use a thinner wire';
  return problem({
    code: 'WIRE-LEAD-CUTS',
    severity: 'stop',
    what,
    fix,
    at: { xMm: at.x, yMm: at.y, feature },
  });
}
