import { type Problem, problem } from '@gapwright/base';
import { segmentBox } from '@gapwright/geometry';
import { distanceToBox, gapBetween } from './boxes.js';
import { failAtLine, placeOf } from './line-finding.js';
import type { Part } from './part.js';
import type { AssignedRun } from './runs.js';
import type { ProofSetup } from './setup.js';
import type { Sweep } from './sweep.js';
import type { Walk } from './walk.js';

/** Clamps and travel for every move, rapid or not. */
export function checkClampsAndTravel(walk: Walk, setup: ProofSetup, sweep: Sweep): Problem[] {
  const out: Problem[] = [];
  const radiusOf = new Map(sweep.moves.map((m, i) => [m, sweep.radii[i]!]));
  const reported = new Set<string>();
  for (const { id, label, box } of setup.keepOuts) {
    if (box.minX < box.maxX && box.minY < box.maxY) continue;
    out.push(
      problem({
        code: 'PROOF-BAD-KEEP-OUT',
        severity: 'stop',
        what: `${label} (${id}) runs from (${box.minX}, ${box.minY}) to (${box.maxX}, ${box.maxY}) and keeps nothing out`,
        fix: 'Give its lower left and upper right corner',
        at: { field: 'keepOuts' },
      }),
    );
  }
  for (const m of walk.moves) {
    const box = segmentBox(m.segment);
    const { travel } = setup;
    if (travel !== null && !reported.has('travel')) {
      if (box.minX < travel.minX || box.minY < travel.minY || box.maxX > travel.maxX || box.maxY > travel.maxY) {
        reported.add('travel');
        out.push(
          failAtLine(
            'PROOF-OUTSIDE-TRAVEL',
            m.line,
            `the move to ${placeOf(m.segment.to)} leaves the machine's travel`,
            'Move the work on the table',
            m.segment.to,
          ),
        );
      }
    }
    for (const zone of setup.keepOuts) {
      const radius = radiusOf.get(m) ?? setup.wireDiameterMm / 2;
      if (gapBetween(box, zone.box) >= radius) continue;
      const key = `${zone.id} ${m.run} ${m.rapid}`;
      if (reported.has(key) || distanceToBox(m.segment, zone.box) >= radius) continue;
      reported.add(key);
      const cutting = radiusOf.has(m);
      out.push(
        cutting
          ? failAtLine(
              'PROOF-CUT-INTO-KEEP-OUT',
              m.line,
              `the cut from ${placeOf(m.segment.from)} to ${placeOf(m.segment.to)} runs into ${zone.label}`,
              'Move the clamp or the path',
              m.segment.from,
            )
          : failAtLine(
              'PROOF-MOVE-THROUGH-KEEP-OUT',
              m.line,
              `the move from ${placeOf(m.segment.from)} to ${placeOf(m.segment.to)} passes through ${zone.label}`,
              'Go round it',
              m.segment.from,
            ),
      );
    }
  }
  return out;
}

/** The kerf of a closed contour must stay inside the plate. */
export function checkPlateEdges(runs: readonly AssignedRun[], part: Part, setup: ProofSetup): Problem[] {
  const { plate } = setup;
  if (plate === null) return [];
  const out: Problem[] = [];
  const reported = new Set<number>();
  for (const r of runs) {
    const f = part.features[r.feature];
    if (f === undefined || f.feature.kind === 'open' || r.pass === null || reported.has(r.feature)) continue;
    for (let i = 0; i < r.body.segments.length; i++) {
      const box = segmentBox(r.body.segments[i]!);
      const radius = r.body.radii[i]!;
      if (r.body.moves[i]!.role === 'plain') continue;
      if (
        box.minX - radius >= plate.minX &&
        box.minY - radius >= plate.minY &&
        box.maxX + radius <= plate.maxX &&
        box.maxY + radius <= plate.maxY
      )
        continue;
      reported.add(r.feature);
      const m = r.body.moves[i]!;
      out.push(
        failAtLine(
          'PROOF-OUTSIDE-PLATE',
          m.line,
          `the kerf of ${f.feature.id} breaks through the edge of the plate near ${placeOf(m.segment.from)}`,
          'Use a larger plate or move the part inwards',
          m.segment.from,
        ),
      );
      break;
    }
  }
  return out;
}
