import { type Problem, problem } from '@gapwright/base';
import type { Wire } from '@gapwright/process';
import type { Job } from './job.js';
import type { Shape } from './shape.js';
import { DRILL_PLACE_MM, type HoleNeeds } from './start-holes.js';

/** Why no start hole was found for a feature, and what is left to do. */
export function noHole(job: Job, shape: Shape, wire: Wire, needs: HoleNeeds): Problem {
  const { feature } = shape;
  const isThinnest = job.book.wires.every((w) => w.diameterMm >= wire.diameterMm);
  const size = needs.sizesMm.at(-1);
  const first = shape.entries[0]?.at;
  const at = { feature: feature.id, ...(first === undefined ? {} : { xMm: first.x, yMm: first.y }) };
  if (size === undefined) {
    const what = `${feature.id}: no drilled size takes the ${wire.diameterMm.toFixed(2)} mm wire at this height`;
    const fix = isThinnest
      ? 'Stack fewer plates, or add a drill that reaches this depth'
      : 'Stack fewer plates, use a thinner wire, or add a drill that reaches this depth';
    return problem({ code: 'WIRE-NO-HOLE-SIZE', severity: 'stop', what, fix, at });
  }
  const room = [...shape.entries, ...shape.furtherEntries()].reduce(
    (most, e) => Math.max(most, Math.min(e.roomMm, 1e6)),
    0,
  );
  const need = size / 2 + DRILL_PLACE_MM + needs.offsetMm;
  if (room >= need) {
    const what = `${feature.id} has no place for a start hole in the plate from which a tab of ${needs.ends.tabMm.toFixed(1)} mm can be left clear of inside corners and other lines with the ${wire.diameterMm.toFixed(2)} mm wire`;
    const fix = isThinnest
      ? 'Take a larger plate, or move the clamps'
      : 'Use a thinner wire, a larger plate, or move the clamps';
    return problem({ code: 'WIRE-NO-ENTRY', severity: 'stop', what, fix, at });
  }
  const what = `${feature.id} has no room for a start hole of ${size.toFixed(2)} mm for the ${wire.diameterMm.toFixed(2)} mm wire: its centre must be ${need.toFixed(2)} mm from every line, the widest place gives ${room.toFixed(2)} mm`;
  return problem({
    code: 'WIRE-START-HOLE',
    severity: 'stop',
    what,
    fix: noHoleFix(feature.role, isThinnest),
    at,
  });
}

/** What is left to do where no start hole fits. */
function noHoleFix(role: Shape['feature']['role'], isThinnest: boolean): string {
  if (!isThinnest) return 'Use a thinner wire, or move clamps and plate edges away';
  return role === 'opening'
    ? 'No thinner wire is left: have the start hole drilled from another side or elsewhere, sink the opening, or ask for a wider one'
    : 'No thinner wire is left: take a larger plate, move clamps and other contours away, or burn this feature in a job of its own';
}
