import {
  apply,
  BugError,
  BY_DEFINITION,
  defineLaw,
  type Figure,
  given,
  type Problem,
  problem,
  type Result,
  STATED_FOR_JOB,
} from '@gapwright/base';
import { judgeCeiling } from './ceiling.js';
import { ceilingShare, removalCeiling } from './energy.js';
import type { Material, ShopBook, Wire, WireLevel, WireMachine } from './shop-book.js';
import { ELECTRODE_THESIS, WIRE_PRACTICE } from './sources.js';
import { thicknessFactor } from './thickness.js';
import { farOutside } from './validity.js';
import { kerfWidth } from './wire-geometry.js';
import { levelTraces, wireRateFactorOf } from './wire-scaling.js';

/** Log standard deviation of "how this material really burns here", shared by all passes; a factor of 1.4 either way at 80 %. */
const RATE_SCATTER = { relative: 0.25, cause: 'rate-material' } as const;

const ROUGH_RATE = defineLaw({
  id: 'rough-area-rate',
  says: 'Area rate of the rough cut: the reference rate times what material, height, wire, machine and nozzles make of it.',
  formula: 'a0 f_material f_height f_wire f_machine f_nozzle',
  source: WIRE_PRACTICE,
  inputs: {
    a0: { unit: 'mm2/min', says: 'reference area rate' },
    f_material: { unit: '1', says: 'material factor' },
    f_height: { unit: '1', says: 'height factor' },
    f_wire: { unit: '1', says: 'wire factor' },
    f_machine: { unit: '1', says: 'machine factor' },
    f_nozzle: { unit: '1', says: 'nozzle factor' },
  },
  output: 'mm2/min',
  scatter: RATE_SCATTER,
  evaluate: ({ a0, f_material, f_height, f_wire, f_machine, f_nozzle }) =>
    a0 * f_material * f_height * f_wire * f_machine * f_nozzle,
});

const SKIM_FEED = defineLaw({
  id: 'skim-feed',
  says: 'Feed of a skim: the reference feed, weakly changed by material and height, and by wire and machine.',
  formula: 'v0 f_material^p (H0 / H)^n f_wire f_machine',
  source: WIRE_PRACTICE,
  inputs: {
    v0: { unit: 'mm/min', says: 'reference feed' },
    f_material: { unit: '1', says: 'material factor' },
    p: { unit: '1', says: 'how strongly skims follow it', valid: [0, 1] },
    H: { unit: 'mm', says: 'burned height', valid: [0.5, 500] },
    H0: { unit: 'mm', says: 'reference height' },
    n: { unit: '1', says: 'how strongly skims slow with height', valid: [0, 1] },
    f_wire: { unit: '1', says: 'wire factor' },
    f_machine: { unit: '1', says: 'machine factor' },
  },
  output: 'mm/min',
  scatter: RATE_SCATTER,
  evaluate: ({ v0, f_material, p, H, H0, n, f_wire, f_machine }) =>
    v0 * f_material ** p * (H0 / H) ** n * f_wire * f_machine,
});

const FEED = defineLaw({
  id: 'feed-from-area-rate',
  says: 'Feed is the area rate divided by the burned height.',
  formula: 'a / H',
  source: BY_DEFINITION,
  inputs: { a: { unit: 'mm2/min', says: 'area rate' }, H: { unit: 'mm', says: 'burned height' } },
  output: 'mm/min',
  evaluate: ({ a, H }) => a / H,
});

const AREA_RATE = defineLaw({
  id: 'area-rate-from-feed',
  says: 'Area rate is feed times burned height.',
  formula: 'v H',
  source: BY_DEFINITION,
  inputs: { v: { unit: 'mm/min', says: 'feed' }, H: { unit: 'mm', says: 'burned height' } },
  output: 'mm2/min',
  evaluate: ({ v, H }) => v * H,
});

const REMOVAL = defineLaw({
  id: 'wire-removal-rate',
  says: 'Volume burned away: area rate times the width taken off.',
  formula: 'a b',
  source: BY_DEFINITION,
  inputs: { a: { unit: 'mm2/min', says: 'area rate' }, b: { unit: 'mm', says: 'width taken off' } },
  output: 'mm3/min',
  evaluate: ({ a, b }) => a * b,
});

const POWER = defineLaw({
  id: 'gap-power-by-wire',
  says: 'A thin wire carries less mean power, in proportion to its rate.',
  formula: 'P0 f_wire',
  source: ELECTRODE_THESIS,
  inputs: { P0: { unit: 'W', says: 'mean power at reference' }, f_wire: { unit: '1', says: 'wire factor' } },
  output: 'W',
  evaluate: ({ P0, f_wire }) => P0 * f_wire,
});

const SEALED = given(1, '1', 'Both nozzles sealed on the work, as levels are rated', WIRE_PRACTICE);

/** What is asked of {@link estimateWirePass}. */
export interface WirePassQuery {
  readonly book: ShopBook;
  readonly material: Material;
  readonly wire: Wire;
  readonly machine: WireMachine;
  readonly level: WireLevel;
  /** Height burned at once (plate times stack), mm; a bare number counts as stated for the job. */
  readonly burnHeightMm: Figure | number;
  /** `open`: a nozzle cannot sit on the work (step, overhang). Only the rough cut feels it. Default `sealed`. */
  readonly nozzles?: 'sealed' | 'open';
}

/** What one pass at one level does. All figures; passes of one job share their doubts about material and machine. */
export interface WirePassEstimate {
  readonly gapMm: Figure;
  /** Stock this level takes per side as a skim; the full kerf for the rough level. */
  readonly stockMm: Figure;
  readonly raUm: Figure;
  readonly recastUm: Figure;
  /** ± mm. */
  readonly profileAccuracyMm: Figure;
  readonly feedMmPerMin: Figure;
  readonly areaRateMm2PerMin: Figure;
  readonly removalMm3PerMin: Figure;
  /** Share of the removal ceiling; above 1 the estimate is refused. */
  readonly ceilingShare: Figure;
}

/**
 * Estimates one pass of wire cutting. `value` is null when a stop problem forbids the pass:
 * `PROCESS-NOT-CONDUCTIVE`, `PROCESS-WIRE-NOT-ON-MACHINE`, `PROCESS-WORK-TOO-TALL`, `PROCESS-HEIGHT-REFUSED`,
 * `PROCESS-ABOVE-CEILING`, `PROCESS-FAR-OUTSIDE`. Throws a BugError for a height that is not a positive number of mm.
 */
export function estimateWirePass(query: WirePassQuery): Result<WirePassEstimate> {
  const { book, material, wire, machine, level } = query;
  const height = heightFigure(query.burnHeightMm);
  const problems: Problem[] = refusals(material, wire, machine, height.value);
  if (problems.length > 0) return { value: null, problems };

  const byHeight = thicknessFactor(book, height);
  problems.push(...byHeight.problems);
  if (byHeight.value === null) return { value: null, problems };

  const wireFactor = wireRateFactorOf(wire);
  const traces = levelTraces(book, level, wire, material, height, machine.id);
  const { feed, areaRate } = rates(query, height, byHeight.value, wireFactor);
  const width = traces.stockMm ?? kerfWidth(wire.diameter, traces.gapMm);
  const removal = apply(REMOVAL, { a: areaRate, b: width });
  const power = apply(POWER, { P0: level.meanPowerW, f_wire: wireFactor });
  const share = ceilingShare(removal, removalCeiling(material, power));
  const subject = `Level ${level.level} in ${material.id}`;
  problems.push(...judgeCeiling(share, subject, book.rules.ceilingWarnShare.value));
  if (share.value > 1) return { value: null, problems };
  const far = farOutside([areaRate, traces.gapMm, traces.raUm, traces.recastUm, traces.profileAccuracyMm]);
  if (far.length > 0) return { value: null, problems: [...problems, ...far] };
  return {
    value: Object.freeze({
      gapMm: traces.gapMm,
      stockMm: width,
      raUm: traces.raUm,
      recastUm: traces.recastUm,
      profileAccuracyMm: traces.profileAccuracyMm,
      feedMmPerMin: feed,
      areaRateMm2PerMin: areaRate,
      removalMm3PerMin: removal,
      ceilingShare: share,
    }),
    problems,
  };
}

function heightFigure(height: Figure | number): Figure {
  const figure = typeof height === 'number' ? given(height, 'mm', 'Burned height', STATED_FOR_JOB) : height;
  if (figure.unit !== 'mm' || !(figure.value > 0) || !Number.isFinite(figure.value)) {
    throw new BugError(`burned height must be a positive number of mm, got ${figure.value} ${figure.unit}`);
  }
  return figure;
}

function refusals(material: Material, wire: Wire, machine: WireMachine, heightMm: number): Problem[] {
  const problems: Problem[] = [];
  if (!material.isConductive) {
    const what = `${material.name} does not conduct, so it cannot be spark-eroded`;
    problems.push(problem({ code: 'PROCESS-NOT-CONDUCTIVE', severity: 'stop', what, fix: 'Choose another process' }));
  }
  if (!machine.wireIds.includes(wire.id)) {
    const what = `${machine.name} does not run wire ${wire.id}`;
    const fix = `Choose one of ${machine.wireIds.join(', ')} or another machine`;
    problems.push(problem({ code: 'PROCESS-WIRE-NOT-ON-MACHINE', severity: 'stop', what, fix }));
  }
  if (heightMm > machine.maxHeightMm) {
    const what = `Burned height ${heightMm} mm is more than the ${machine.maxHeightMm} mm of ${machine.name}`;
    const fix = 'Choose a taller machine or stack fewer plates';
    problems.push(problem({ code: 'PROCESS-WORK-TOO-TALL', severity: 'stop', what, fix }));
  }
  return problems;
}

/** Roughing starts from an area rate, skims from a feed. */
function rates(
  { book, material, machine, level, nozzles }: WirePassQuery,
  height: Figure,
  heightFactor: Figure,
  wireFactor: Figure,
): { feed: Figure; areaRate: Figure } {
  if (level.areaRateMm2PerMin !== null) {
    const areaRate = apply(
      ROUGH_RATE,
      {
        a0: level.areaRateMm2PerMin,
        f_material: material.wireRateFactor,
        f_height: heightFactor,
        f_wire: wireFactor,
        f_machine: machine.rateFactor,
        f_nozzle: nozzles === 'open' ? book.rules.openNozzleFactor : SEALED,
      },
      material.id,
    );
    return { areaRate, feed: apply(FEED, { a: areaRate, H: height }) };
  }
  if (level.feedMmPerMin === null) throw new BugError(`level ${level.level} has neither area rate nor feed`);
  const feed = apply(
    SKIM_FEED,
    {
      v0: level.feedMmPerMin,
      f_material: material.wireRateFactor,
      p: book.rules.skimMaterialExponent,
      H: height,
      H0: book.rules.referenceHeightMm,
      n: book.rules.skimHeightExponent,
      f_wire: wireFactor,
      f_machine: machine.rateFactor,
    },
    material.id,
  );
  return { feed, areaRate: apply(AREA_RATE, { v: feed, H: height }) };
}
