import { type Problem, problem } from '@gapwright/base';
import {
  type Box,
  distanceMm,
  type Point,
  pointAt,
  type Segment,
  segmentBox,
  segmentLengthMm,
} from '@gapwright/geometry';
import { closest, distanceTo } from './distance.js';
import type { Part } from './part.js';
import type { AssignedRun } from './runs.js';
import type { ProofSetup } from './setup.js';
import { isInside } from './side-of.js';
import type { Sweep } from './sweep.js';
import { SAME_POINT_MM } from './tolerances.js';
import type { Walk, WireMove } from './walk.js';

/** A threaded rapid is looked at this often, mm. */
const RAPID_STEP_MM = 0.05;

/** Facts about the machine and the table that hold for any drawing: wire state, start holes, plate, travel, clamps. */
export function checkMachine(
  walk: Walk,
  sweep: Sweep,
  runs: readonly AssignedRun[],
  part: Part,
  slugs: readonly { feature: string; freedAtLine: number }[],
  setup: ProofSetup,
): Problem[] {
  return [
    ...wireState(walk, setup),
    ...places(walk, setup, sweep),
    ...plateEdges(runs, part, setup),
    ...threadedRapids(walk, sweep, part, slugs, setup),
  ];
}

function stop(code: string, line: number, what: string, fix: string, p?: Point): Problem {
  const place = p === undefined ? {} : { xMm: p.x, yMm: p.y };
  return problem({ code, severity: 'stop', what: `Line ${line}: ${what}`, fix, at: { line, ...place } });
}

const at = (p: Point): string => `(${p.x.toFixed(3)}, ${p.y.toFixed(3)})`;

function wireState(walk: Walk, setup: ProofSetup): Problem[] {
  const out: Problem[] = [];
  const half = setup.wireDiameterMm / 2;
  const reported = new Set<string>();
  const once = (key: string, make: () => Problem): void => {
    if (!reported.has(key)) out.push(make());
    reported.add(key);
  };
  const levels = new Set(setup.levels.map((l) => l.level));
  for (const m of walk.moves) {
    if (m.rapid) continue;
    const p = m.segment.from;
    if (!m.threaded)
      once(`wire ${m.run}`, () =>
        stop('PROOF-CUT-WITHOUT-WIRE', m.line, `a cut starts at ${at(p)} without wire`, 'Thread the wire first', p),
      );
    else {
      if (m.level === null)
        once(`level ${m.run}`, () =>
          stop(
            'PROOF-NO-LEVEL',
            m.line,
            'a cut runs before any level is selected',
            'Select the level of the pass first',
            p,
          ),
        );
      else if (!levels.has(m.level))
        once(`level ${m.run}`, () =>
          stop(
            'PROOF-LEVEL-UNKNOWN',
            m.line,
            `level ${m.level} is not in the set-up`,
            'Select a level of the set-up',
            p,
          ),
        );
      if (!m.fluid)
        once('fluid', () =>
          problem({
            code: 'PROOF-NO-FLUID',
            severity: 'warn',
            what: `Line ${m.line}: the fluid is off during a cut`,
            fix: 'Switch it on before the cut',
            at: { line: m.line },
          }),
        );
      if (!(m.feedMmPerMin > 0))
        once(`feed ${m.run}`, () => stop('PROOF-NO-FEED', m.line, 'a cut runs without feed', 'State the feed', p));
    }
  }
  let ended = false;
  let threaded = false;
  for (const e of walk.events) {
    if (e.kind === 'end') ended = true;
    if (e.kind === 'cut-wire') {
      if (!e.threadedBefore)
        out.push(
          problem({
            code: 'PROOF-NO-WIRE-TO-CUT',
            severity: 'warn',
            what: `Line ${e.line}: the wire is cut but none is threaded`,
            at: { line: e.line },
          }),
        );
      threaded = false;
    }
    if (e.kind !== 'thread') continue;
    threaded = true;
    if (e.threadedBefore)
      out.push(
        stop(
          'PROOF-THREADED-TWICE',
          e.line,
          'the wire is threaded while one is in the work',
          'Cut the wire first',
          e.at,
        ),
      );
    const inHole = setup.startHoles.some((h) => distanceMm(h.centre, e.at) + half <= h.diameterMm / 2 + SAME_POINT_MM);
    const clearOfPlate = setup.plate !== null && isClearOfBox(setup.plate, e.at, half);
    if (!inHole && !clearOfPlate) {
      out.push(
        stop(
          'PROOF-THREAD-PLACE',
          e.line,
          `the wire is threaded at ${at(e.at)}, where no start hole has room for it`,
          'Move to a start hole or clear of the plate',
          e.at,
        ),
      );
    }
  }
  if (!walk.halted) {
    if (!ended)
      out.push(
        problem({
          code: 'PROOF-NO-END',
          severity: 'warn',
          what: 'The program has no end word',
          fix: 'Close it with M02 or M30',
        }),
      );
    if (threaded)
      out.push(
        problem({
          code: 'PROOF-WIRE-LEFT-IN',
          severity: 'warn',
          what: 'The program ends with the wire in the work',
          fix: 'Cut the wire before the end',
        }),
      );
  }
  return out;
}

function isClearOfBox(b: Box, p: Point, margin: number): boolean {
  return p.x <= b.minX - margin || p.x >= b.maxX + margin || p.y <= b.minY - margin || p.y >= b.maxY + margin;
}

/** Sides of a box as segments. */
function sides(b: Box): Segment[] {
  const p = [
    { x: b.minX, y: b.minY },
    { x: b.maxX, y: b.minY },
    { x: b.maxX, y: b.maxY },
    { x: b.minX, y: b.maxY },
  ];
  return p.map((from, i) => ({ kind: 'line', from, to: p[(i + 1) % 4]! }));
}

function distanceToBox(s: Segment, b: Box): number {
  const p = s.from;
  if (p.x >= b.minX && p.x <= b.maxX && p.y >= b.minY && p.y <= b.maxY) return 0;
  return Math.min(...sides(b).map((side) => closest(s, side).distanceMm));
}

function gapBetween(a: Box, b: Box): number {
  return Math.max(b.minX - a.maxX, a.minX - b.maxX, b.minY - a.maxY, a.minY - b.maxY);
}

/** Clamps and travel for every move, rapid or not. */
function places(walk: Walk, setup: ProofSetup, sweep: Sweep): Problem[] {
  const out: Problem[] = [];
  const radiusOf = new Map(sweep.moves.map((m, i) => [m, sweep.radii[i]!]));
  const reported = new Set<string>();
  for (const m of walk.moves) {
    const box = segmentBox(m.segment);
    const { travel } = setup;
    if (travel !== null && !reported.has('travel')) {
      if (box.minX < travel.minX || box.minY < travel.minY || box.maxX > travel.maxX || box.maxY > travel.maxY) {
        reported.add('travel');
        out.push(
          stop(
            'PROOF-OUTSIDE-TRAVEL',
            m.line,
            `the move to ${at(m.segment.to)} leaves the machine's travel`,
            'Move the work on the table',
            m.segment.to,
          ),
        );
      }
    }
    for (const zone of setup.keepOuts) {
      const radius = radiusOf.get(m) ?? setup.wireDiameterMm / 2;
      const key = `${zone.id} ${m.run} ${m.rapid}`;
      if (reported.has(key) || gapBetween(box, zone.box) >= radius) continue;
      if (distanceToBox(m.segment, zone.box) >= radius) continue;
      reported.add(key);
      const cutting = radiusOf.has(m);
      out.push(
        cutting
          ? stop(
              'PROOF-CUT-INTO-KEEP-OUT',
              m.line,
              `the cut from ${at(m.segment.from)} to ${at(m.segment.to)} runs into ${zone.label}`,
              'Move the clamp or the path',
              m.segment.from,
            )
          : stop(
              'PROOF-MOVE-THROUGH-KEEP-OUT',
              m.line,
              `the move from ${at(m.segment.from)} to ${at(m.segment.to)} passes through ${zone.label}`,
              'Go round it',
              m.segment.from,
            ),
      );
    }
  }
  return out;
}

/** The kerf of a closed contour must stay inside the plate. */
function plateEdges(runs: readonly AssignedRun[], part: Part, setup: ProofSetup): Problem[] {
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
        stop(
          'PROOF-OUTSIDE-PLATE',
          m.line,
          `the kerf of ${f.feature.id} breaks through the edge of the plate near ${at(m.segment.from)}`,
          'Use a larger plate or move the part inwards',
          m.segment.from,
        ),
      );
      break;
    }
  }
  return out;
}

/** With wire in the work a rapid may run only where there is nothing: start hole, kerf so far, freed opening, beside the plate. */
function threadedRapids(
  walk: Walk,
  sweep: Sweep,
  part: Part,
  slugs: readonly { feature: string; freedAtLine: number }[],
  setup: ProofSetup,
): Problem[] {
  const out: Problem[] = [];
  const half = setup.wireDiameterMm / 2;
  for (const m of walk.moves) {
    if (!m.rapid || !m.threaded) continue;
    const length = segmentLengthMm(m.segment);
    const count = Math.min(2000, Math.max(2, Math.ceil(length / RAPID_STEP_MM)));
    for (let k = 0; k <= count; k++) {
      const p = pointAt(m.segment, k / count);
      if (isFree(p, m, half, sweep, part, slugs, setup)) continue;
      out.push(
        stop(
          'PROOF-RAPID-THROUGH-MATERIAL',
          m.line,
          `a rapid move drags the wire through material at ${at(p)}`,
          'Cut the wire first, or move in feed',
          p,
        ),
      );
      break;
    }
  }
  return out;
}

function isFree(
  p: Point,
  m: WireMove,
  half: number,
  sweep: Sweep,
  part: Part,
  slugs: readonly { feature: string; freedAtLine: number }[],
  setup: ProofSetup,
): boolean {
  if (setup.plate !== null && isClearOfBox(setup.plate, p, half)) return true;
  if (setup.startHoles.some((h) => distanceMm(h.centre, p) + half <= h.diameterMm / 2 + SAME_POINT_MM)) return true;
  let free = false;
  sweep.near(p, 0, (i) => {
    if (free || sweep.moves[i]!.motion >= m.motion) return;
    free = distanceTo(sweep.segments[i]!, p.x, p.y) + half <= sweep.radii[i]! + SAME_POINT_MM;
  });
  if (free) return true;
  for (const f of part.features) {
    if (f.feature.kind !== 'opening') continue;
    const slug = slugs.find((s) => s.feature === f.feature.id);
    if (slug !== undefined && slug.freedAtLine < m.line && isInside(f.contour, p)) return true;
  }
  return false;
}
