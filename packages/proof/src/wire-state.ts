import { type Problem, problem } from '@gapwright/base';
import { distanceMm } from '@gapwright/geometry';
import { isClearOfBox } from './boxes.js';
import { failAtLine, placeOf } from './line-finding.js';
import type { ProofSetup } from './setup.js';
import { SAME_POINT_MM } from './tolerances.js';
import type { Walk } from './walk.js';

/** Wire, level, fluid and feed during cuts; where and when the wire is threaded and cut. */
export function checkWireState(walk: Walk, setup: ProofSetup): Problem[] {
  const out: Problem[] = [];
  const half = setup.wireDiameterMm / 2;
  const reported = new Set<string>();
  const once = (key: string, make: () => Problem): void => {
    if (!reported.has(key)) out.push(make());
    reported.add(key);
  };
  const levels = new Set(setup.levels.map((l) => l.level));
  const fastest = fastestFeeds(setup);
  for (const m of walk.moves) {
    if (m.rapid) continue;
    const p = m.segment.from;
    if (!m.threaded)
      once(`wire ${m.run}`, () =>
        failAtLine(
          'PROOF-CUT-WITHOUT-WIRE',
          m.line,
          `a cut starts at ${placeOf(p)} without wire`,
          'Thread the wire first',
          p,
        ),
      );
    else {
      if (m.level === null)
        once(`level ${m.run}`, () =>
          failAtLine(
            'PROOF-NO-LEVEL',
            m.line,
            'a cut runs before any level is selected',
            'Select the level of the pass first',
            p,
          ),
        );
      else if (!levels.has(m.level))
        once(`level ${m.run}`, () =>
          failAtLine(
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
        once(`feed ${m.run}`, () =>
          failAtLine('PROOF-NO-FEED', m.line, 'a cut runs without feed', 'State the feed', p),
        );
      const limit = fastest.get(m.level ?? -1);
      if (limit !== undefined && m.feedMmPerMin > limit)
        once(`fast ${m.run}`, () =>
          failAtLine(
            'PROOF-FEED-FAST',
            m.line,
            `the feed of ${m.feedMmPerMin} mm/min is faster than the set-up allows at level ${m.level} (${Number(limit.toPrecision(4))} mm/min); the wire would break or run into the work`,
            'Take the feed of the set-up sheet',
            p,
          ),
        );
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
        failAtLine(
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
        failAtLine(
          'PROOF-THREAD-PLACE',
          e.line,
          `the wire is threaded at ${placeOf(e.at)}, where no start hole has room for it`,
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

/** Feeds are rounded to the digits of the post; this much above the sheet is still the sheet's feed, mm/min. */
const FEED_ROUNDING_MM_PER_MIN = 0.01;

/** Fastest feed of each level that has one on the sheet, mm/min. */
function fastestFeeds(setup: ProofSetup): Map<number, number> {
  const out = new Map<number, number>();
  for (const { level, feedMmPerMin } of setup.passes) {
    if (feedMmPerMin === undefined) continue;
    out.set(level, Math.max(out.get(level) ?? 0, feedMmPerMin + FEED_ROUNDING_MM_PER_MIN));
  }
  return out;
}
