import {
  apply,
  BugError,
  defineLaw,
  type Figure,
  given,
  type Problem,
  problem,
  type Result,
  STATED_FOR_JOB,
  sumOf,
  Z_80,
} from '@gapwright/base';
import { judgeCeiling } from '../ceiling.js';
import type { DrillMachine, Material, ShopBook } from '../shop-book.js';
import { DRILL_PRACTICE } from '../sources.js';
import { farOutside } from '../validity.js';
import { drillCeilingShare, drillFeed, drillFeedAtDepth, drillTime, tubeUse } from './drill-laws.js';
import { chooseTube, tubesNeeded } from './tubes.js';

const EXIT_LENGTH = defineLaw({
  id: 'drill-exit-length',
  says: 'After breaking through, the worn tip must pass: one to three diameters.',
  formula: '1.73 d',
  source: DRILL_PRACTICE,
  inputs: { d: { unit: 'mm', says: 'hole diameter' } },
  output: 'mm',
  scatter: { relative: Math.log(3) / (2 * Z_80), cause: 'drill-exit' },
  evaluate: ({ d }) => 1.73 * d,
});

const EXIT_TIME = defineLaw({
  id: 'drill-exit-time',
  says: 'Flushing is lost at breakthrough, so the exit burns at about half the feed reached there.',
  formula: '2 x / f',
  source: DRILL_PRACTICE,
  inputs: { x: { unit: 'mm', says: 'exit length' }, f: { unit: 'mm/min', says: 'feed at depth' } },
  output: 'min',
  scatter: { relative: 0.4, cause: 'drill-exit' },
  evaluate: ({ x, f }) => (2 * x) / f,
});

const TRAVEL = defineLaw({
  id: 'drill-axis-travel',
  says: 'The axis travels the depth and the length the tube loses, and the exit length through the far face.',
  formula: 'D (1 + w) + x',
  source: DRILL_PRACTICE,
  inputs: {
    D: { unit: 'mm', says: 'depth' },
    w: { unit: '1', says: 'tube length per hole length' },
    x: { unit: 'mm', says: 'exit length' },
  },
  output: 'mm',
  evaluate: ({ D, w, x }) => D * (1 + w) + x,
});

const practice = (low: number, high: number, unit: string, says: string, cause: string): Figure =>
  given(Math.sqrt(low * high), unit, says, DRILL_PRACTICE, { relative: Math.log(high / low) / (2 * Z_80), cause });

const RECAST_UM = practice(20, 80, 'um', 'Recast of drilled holes', 'drill-recast');
const STRAIGHTNESS = practice(0.01, 0.1, 'mm', 'Bow of a drilled hole over 100 mm', 'drill-straightness');
const NO_EXIT = given(0, 'mm', 'Blind hole: nothing to pass', STATED_FOR_JOB);

/** Depth to diameter from which holes are called easy no more, and the deepest ever seen with care. */
const USUAL_DEPTH_RATIO = 20;
const GREATEST_DEPTH_RATIO = 300;

/** Slopes steeper than this deflect the tube at entry, degrees from square. Common practice says 20 to 30. */
const STEEP_DEG = 20;

/** What is asked of {@link estimateSmallHole}. */
export interface SmallHoleQuery {
  readonly book: ShopBook;
  readonly material: Material;
  readonly machine: DrillMachine;
  /** Size the hole shall have, mm, and how far it may be off (±). */
  readonly diameterMm: number;
  readonly toleranceMm: number;
  readonly depthMm: number;
  readonly holes: number;
  /** Default `through`. */
  readonly end?: 'through' | 'blind';
  /** A start hole disappears in the cut; a finished hole keeps its recast. */
  readonly purpose: 'start' | 'finished';
  /** Angle of the entry face from square to the tube. Default 0. */
  readonly entrySlopeDeg?: number;
  /** Tubes the shop keeps; default the usual ones. */
  readonly tubesMm?: readonly number[];
  /** Default 300 mm long with 40 mm held. */
  readonly tubeLengthMm?: number;
  readonly heldMm?: number;
  /** Mean power in the gap, W, when known. */
  readonly meanPowerW?: Figure;
}

/** What a group of equal small holes takes. */
export interface SmallHoleEstimate {
  readonly tubeMm: number;
  readonly holeMm: Figure;
  readonly feedMmPerMin: Figure;
  readonly feedAtDepthMmPerMin: Figure;
  /** Burning one hole with breakthrough, min. */
  readonly burnMin: Figure;
  readonly tubePerHoleMm: Figure;
  /** Axis travel of one hole, wear included, mm. */
  readonly travelMm: Figure;
  readonly tubes: Figure;
  /** Tubes at the high end of the wear: take so many to the machine. */
  readonly tubesAtMost: number;
  readonly recastUm: Figure;
  /** Bow over 100 mm. */
  readonly straightnessMm: Figure;
  readonly ceilingShare: Figure;
}

/**
 * Estimates small holes. Stops: `PROCESS-DRILL-MATERIAL`, `SMALLHOLE-TOO-DEEP`, `SMALLHOLE-NO-TUBE`,
 * `PROCESS-FAR-OUTSIDE`, `PROCESS-ABOVE-CEILING`. Warns: `SMALLHOLE-DEEP`, `SMALLHOLE-STEEP-ENTRY`, `SMALLHOLE-RECAST`,
 * `SMALLHOLE-BLIND-WEAR`, `SMALLHOLE-SIZE-UNSURE`. Throws a BugError for sizes that are not positive.
 */
export function estimateSmallHole(query: SmallHoleQuery): Result<SmallHoleEstimate> {
  const { book, material, machine, diameterMm, depthMm, holes } = query;
  for (const [name, value] of Object.entries({ diameterMm, depthMm, holes, toleranceMm: query.toleranceMm })) {
    if (!(value > 0) || !Number.isFinite(value)) throw new BugError(`${name} must be positive, got ${value}`);
  }
  const { drillFeedMmPerMin: feed1, drillWearRatio: wear } = material;
  if (!material.isConductive || feed1 === null || wear === null) {
    const what = `${material.name} has no drilling figures in the shop book`;
    const fix = 'Add them or drill it elsewhere';
    return { value: null, problems: [problem({ code: 'PROCESS-DRILL-MATERIAL', severity: 'stop', what, fix })] };
  }
  const problems: Problem[] = conditionProblems(query);
  const tube = chooseTube(diameterMm, query.toleranceMm, query.tubesMm);
  problems.push(...tube.problems);
  if (tube.value === null || problems.some((p) => p.severity === 'stop')) return { value: null, problems };

  const d = tube.value.holeMm;
  const depth = given(depthMm, 'mm', 'Hole depth', STATED_FOR_JOB);
  const feed = drillFeed(feed1, machine.feedFactor, d, material.id);
  const atDepth = drillFeedAtDepth(feed, depth, book.rules.drillHalfDepthRatio, d);
  const share = drillCeilingShare(material, feed, d, query.meanPowerW);
  problems.push(...judgeCeiling(share, `A ${diameterMm} mm hole in ${material.id}`, book.rules.ceilingWarnShare.value));
  if (share.value > 1) return { value: null, problems };

  const through = query.end !== 'blind';
  const exit = through ? apply(EXIT_LENGTH, { d }) : NO_EXIT;
  const burning = drillTime(depth, d, book.rules.drillHalfDepthRatio, feed);
  const used = tubeUse(depth, wear, book.rules.drillDressMm);
  const tubes = tubesNeeded(holes, used, query.tubeLengthMm ?? USUAL_TUBE_LENGTH_MM, query.heldMm ?? USUAL_HELD_MM);
  const value: SmallHoleEstimate = Object.freeze({
    tubeMm: tube.value.tubeMm,
    holeMm: d,
    feedMmPerMin: feed,
    feedAtDepthMmPerMin: atDepth,
    burnMin: through ? sumOf({ depth: burning, breakthrough: apply(EXIT_TIME, { x: exit, f: atDepth }) }) : burning,
    tubePerHoleMm: used,
    travelMm: apply(TRAVEL, { D: depth, w: wear, x: exit }),
    tubes: tubes.expected,
    tubesAtMost: tubes.worst,
    recastUm: RECAST_UM,
    straightnessMm: STRAIGHTNESS,
    ceilingShare: share,
  });
  const far = farOutside([value.burnMin, value.tubes, value.holeMm]);
  return far.length > 0 ? { value: null, problems: [...problems, ...far] } : { value, problems };
}

/** Usual tubes are 150 to 400 mm long. */
const USUAL_TUBE_LENGTH_MM = 300;
/** Chuck and guide keep a few centimetres. */
const USUAL_HELD_MM = 40;

function conditionProblems(query: SmallHoleQuery): Problem[] {
  const { book, material, diameterMm, depthMm } = query;
  const problems: Problem[] = [];
  const say = (code: string, severity: 'stop' | 'warn' | 'info', what: string, fix: string): void => {
    problems.push(problem({ code, severity, what, fix }));
  };
  const ratio = depthMm / diameterMm;
  const limit = book.rules.drillMaxDepthRatio.value;
  const deep = `A ${diameterMm} mm hole ${depthMm} mm deep is ${ratio.toFixed(0)} diameters`;
  if (ratio > GREATEST_DEPTH_RATIO || depthMm > query.machine.maxDepthMm) {
    const what = `${deep}; ${query.machine.name} drills ${query.machine.maxDepthMm} mm and ${GREATEST_DEPTH_RATIO} diameters are the most ever seen`;
    say('SMALLHOLE-TOO-DEEP', 'stop', what, 'Drill from both sides, choose a wider hole or another machine');
  } else if (ratio > limit) {
    say(
      'SMALLHOLE-DEEP',
      'warn',
      `${deep}, more than the usual limit of ${limit}`,
      'Drill a test hole; flushing decides',
    );
  } else if (ratio > USUAL_DEPTH_RATIO) {
    say('SMALLHOLE-DEEP', 'info', `${deep}; up to ${USUAL_DEPTH_RATIO} is easy`, 'Watch flushing pressure');
  }
  const slope = query.entrySlopeDeg ?? 0;
  if (slope > STEEP_DEG) {
    const what = `The tube enters a face ${slope}° from square`;
    say(
      'SMALLHOLE-STEEP-ENTRY',
      'warn',
      what,
      'Start slowly, make a flat or pilot, and keep the guide within 1 to 2 mm',
    );
  }
  if (query.purpose === 'finished') {
    const cracks = material.family === 'nickel alloy' || material.family === 'titanium' ? ', with cracks likely' : '';
    const what = `A finished hole keeps a recast layer of about ${RECAST_UM.low.toFixed(0)} to ${RECAST_UM.high.toFixed(0)} µm${cracks}`;
    say('SMALLHOLE-RECAST', 'warn', what, 'Ream, etch or hone if the customer limits recast');
  }
  if (query.end === 'blind') {
    const what = 'A blind hole ends in the shape of a worn tube, and its depth rests on the wear';
    say('SMALLHOLE-BLIND-WEAR', 'warn', what, 'Dress the tube and measure the depth before the last millimetre');
  }
  return problems;
}
