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
import { judgeCeiling } from './ceiling.js';
import type { DrillMachine, Material, ShopBook } from './shop-book.js';
import { drillCeilingShare, drillFeed, drillTime, tubeUse } from './small-hole/drill-laws.js';

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
 * `PROCESS-DRILL-SIZE` (size not on the machine), `PROCESS-DRILL-TOO-DEEP`, `PROCESS-ABOVE-CEILING`.
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
  const feed = drillFeed(material.drillFeedMmPerMin, machine.feedFactor, d, material.id);
  const share = drillCeilingShare(material, feed, d);
  const subject = `A ${diameterMm} mm hole in ${material.id}`;
  const ceiling = judgeCeiling(share, subject, book.rules.ceilingWarnShare.value);
  if (share.value > 1) return { value: null, problems: ceiling };
  const burnMin = drillTime(depth, d, book.rules.drillHalfDepthRatio, feed);
  return {
    value: Object.freeze({
      burnMin,
      perHoleMin: sumOf({ burning: burnMin, 'moving, touching off and breaking through': machine.perHoleMin }),
      tubeMm: tubeUse(depth, material.drillWearRatio, book.rules.drillDressMm),
      tubeDiameterMm: apply(TUBE_SIZE, { d, g: book.rules.drillOvercutMm }),
    }),
    problems: ceiling,
  };
}
