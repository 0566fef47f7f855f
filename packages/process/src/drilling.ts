import {
  apply,
  BY_DEFINITION,
  defineLaw,
  type Figure,
  given,
  type Problem,
  problem,
  type Result,
  STATED_FOR_JOB,
  sumOf,
} from '@gapwright/base';
import type { DrillMachine, Material, ShopBook } from './shop-book.js';
import { DRILL_PRACTICE } from './sources.js';

const FEED = defineLaw({
  id: 'drill-feed',
  says: 'Feed at the mouth of the hole: the figure of a 1 mm tube, falling with the square of the diameter above 1 mm.',
  formula: 'f1 f_machine / max(1, d)²',
  source: DRILL_PRACTICE,
  inputs: {
    f1: { unit: 'mm/min', says: 'feed of a 1 mm tube' },
    f_machine: { unit: '1', says: 'machine factor' },
    d: { unit: 'mm', says: 'hole diameter', valid: [0.3, 3] },
  },
  output: 'mm/min',
  scatter: { relative: 0.25, cause: 'drill-rate-material' },
  evaluate: ({ f1, f_machine, d }) => (f1 * f_machine) / Math.max(1, d) ** 2,
});

const TIME = defineLaw({
  id: 'drill-time',
  says: 'The feed falls with depth as f / (1 + z / z0), so the time is the depth over the feed and a growing part.',
  formula: '(D + D² / (2 k d)) / f',
  source: DRILL_PRACTICE,
  inputs: {
    D: { unit: 'mm', says: 'depth' },
    d: { unit: 'mm', says: 'hole diameter' },
    k: { unit: '1', says: 'depth that halves the feed, in diameters' },
    f: { unit: 'mm/min', says: 'feed at the mouth' },
  },
  output: 'min',
  evaluate: ({ D, d, k, f }) => (D + (D * D) / (2 * k * d)) / f,
});

const TUBE_USE = defineLaw({
  id: 'drill-tube-use',
  says: 'Tube used up: wear over the depth, and dressing.',
  formula: 'D w + c',
  source: DRILL_PRACTICE,
  inputs: {
    D: { unit: 'mm', says: 'depth' },
    w: { unit: '1', says: 'tube length per hole length' },
    c: { unit: 'mm', says: 'dressing' },
  },
  output: 'mm',
  evaluate: ({ D, w, c }) => D * w + c,
});

const TUBE_SIZE = defineLaw({
  id: 'drill-tube-size',
  says: 'The hole is wider than the tube by the overcut on either side.',
  formula: 'd − 2 g',
  source: BY_DEFINITION,
  inputs: { d: { unit: 'mm', says: 'hole diameter' }, g: { unit: 'mm', says: 'overcut per side' } },
  output: 'mm',
  evaluate: ({ d, g }) => d - 2 * g,
});

/** One drilled start hole. */
export interface DrillEstimate {
  /** Burning one hole, min. */
  readonly burnMin: Figure;
  /** Burning, moving, touching off and breaking through one hole, min. */
  readonly perHoleMin: Figure;
  /** Tube used per hole, mm. */
  readonly tubeMm: Figure;
  /** Tube to fit, mm. */
  readonly tubeDiameterMm: Figure;
}

/** What is asked of {@link estimateDrilledHole}. */
export interface DrillQuery {
  readonly book: ShopBook;
  readonly material: Material;
  readonly machine: DrillMachine;
  readonly diameterMm: number;
  readonly depthMm: number;
}

/**
 * Time and tube for one start hole. Stops: `PROCESS-DRILL-MATERIAL` (not conductive or no drilling figures),
 * `PROCESS-DRILL-SIZE` (size not on the machine), `PROCESS-DRILL-TOO-DEEP`.
 */
export function estimateDrilledHole({
  book,
  material,
  machine,
  diameterMm,
  depthMm,
}: DrillQuery): Result<DrillEstimate> {
  const problems: Problem[] = [];
  const stop = (code: string, what: string, fix: string): void => {
    problems.push(problem({ code, severity: 'stop', what, fix }));
  };
  if (!material.isConductive || material.drillFeedMmPerMin === null || material.drillWearRatio === null) {
    stop(
      'PROCESS-DRILL-MATERIAL',
      `${material.name} has no drilling figures in the shop book`,
      'Add them or drill it elsewhere',
    );
  }
  if (!machine.holeSizesMm.includes(diameterMm)) {
    const what = `${machine.name} does not drill ${diameterMm} mm`;
    stop('PROCESS-DRILL-SIZE', what, `Choose one of ${machine.holeSizesMm.join(', ')} mm`);
  }
  const deepest = Math.min(machine.maxDepthMm, book.rules.drillMaxDepthRatio.value * diameterMm);
  if (!(depthMm > 0 && depthMm <= deepest)) {
    const what = `A ${diameterMm} mm hole ${depthMm} mm deep is outside 0 to ${deepest} mm of ${machine.name}`;
    stop('PROCESS-DRILL-TOO-DEEP', what, 'Choose a wider hole, another machine or a thinner stack');
  }
  if (material.drillFeedMmPerMin === null || material.drillWearRatio === null || problems.length > 0) {
    return { value: null, problems };
  }
  const d = given(diameterMm, 'mm', 'Hole diameter', STATED_FOR_JOB);
  const depth = given(depthMm, 'mm', 'Hole depth', STATED_FOR_JOB);
  const feed = apply(FEED, { f1: material.drillFeedMmPerMin, f_machine: machine.feedFactor, d }, material.id);
  const burnMin = apply(TIME, { D: depth, d, k: book.rules.drillHalfDepthRatio, f: feed });
  return {
    value: Object.freeze({
      burnMin,
      perHoleMin: sumOf({ burning: burnMin, 'moving, touching off and breaking through': machine.perHoleMin }),
      tubeMm: apply(TUBE_USE, { D: depth, w: material.drillWearRatio, c: book.rules.drillDressMm }),
      tubeDiameterMm: apply(TUBE_SIZE, { d, g: book.rules.drillOvercutMm }),
    }),
    problems: [],
  };
}
