import { apply, BY_DEFINITION, defineLaw, defineSource, type Figure, given, sumOf } from '@gapwright/base';
import {
  burnTime,
  type ShopRates,
  setUpTime,
  threadingTime,
  timesMin,
  type Wire,
  type WireMachine,
  wireCost,
  wireUseKg,
  wireUseM,
} from '@gapwright/process';
import { drillAttendedMin } from './hole-sizes.js';
import type { Job } from './job.js';
import { burnHeight, type SetUp, type SetUpTotals } from './set-up.js';

const PLANNED_PATH = defineSource({
  id: 'planned-path',
  title: 'Measured on the planned path',
  standing: 'computed',
});

const AT_RATE = defineLaw({
  id: 'plan-minutes-at-rate',
  says: 'Minutes at an hourly rate.',
  formula: 't / 60 r',
  source: BY_DEFINITION,
  inputs: { t: { unit: 'min', says: 'time' }, r: { unit: 'EUR/h', says: 'rate' } },
  output: 'EUR',
  evaluate: ({ t, r }) => (t / 60) * r,
});

const PER_RUN = defineLaw({
  id: 'plan-share-of-run',
  says: 'What all runs need together, shared out evenly.',
  formula: 't / n',
  source: BY_DEFINITION,
  inputs: { t: { unit: 'min', says: 'time of all runs' }, n: { unit: '1', says: 'runs' } },
  output: 'min',
  evaluate: ({ t, n }) => t / n,
});

const MATERIAL = defineLaw({
  id: 'plan-plate-material',
  says: 'Price of the plates: area times height times density times price.',
  formula: 'A H n rho p / 1e6',
  source: BY_DEFINITION,
  inputs: {
    A: { unit: 'mm2', says: 'area of a plate' },
    H: { unit: 'mm', says: 'height burned at once' },
    n: { unit: '1', says: 'runs' },
    rho: { unit: 'g/cm3', says: 'density' },
    p: { unit: 'EUR/kg', says: 'material price' },
  },
  output: 'EUR',
  evaluate: ({ A, H, n, rho, p }) => (A * H * n * rho * p) / 1e6,
});

/** An even share of one run, min. */
export function perRun(allMin: Figure, runs: number): Figure {
  return apply(PER_RUN, { t: allMin, n: given(runs, '1', 'Runs', PLANNED_PATH) });
}

/** Setting up so many runs, min; only the job's first runs include mounting the wire and finding zero from nothing. */
export function setUpsOf(rates: ShopRates, runs: number, isFirst: boolean): Figure {
  return isFirst ? setUpTime(rates, runs) : timesMin(runs, rates.repeatSetUpMin, 'Further runs');
}

/** Pass lengths, threadings and times of one run, with the cost of all its runs. */
export interface RunFigures {
  readonly passes: readonly { readonly pathMm: Figure; readonly burnMin: Figure }[];
  readonly burnMin: Figure;
  /** The machine running alone: burning, threading by itself, filling. */
  readonly machineMin: Figure;
  readonly attendedMin: Figure;
  readonly threadings: number;
  readonly useM: Figure;
  readonly useKg: Figure;
  /** Drilling of one run's start holes; null when none are drilled. */
  readonly drillMin: Figure | null;
  readonly comparisonCost: Figure;
}

/** What the costs of a run are made from. */
export interface RunParts {
  readonly job: Job;
  readonly setUp: SetUp;
  readonly machine: WireMachine;
  readonly wire: Wire;
  readonly stack: number;
  readonly runs: number;
  /** True for the job's first batch, whose first run has the long set-up. */
  readonly isFirst: boolean;
  readonly feeds: readonly Figure[];
  /** Drilling of one run's start holes; null when none are drilled. */
  readonly drillingMin: Figure | null;
}

function threadingsOf(totals: SetUpTotals, passes: number): number {
  return totals.threadings + (passes > 1 ? totals.skimThreadings : 0);
}

/** Times and cost as figures, each with its working. */
export function runFigures(parts: RunParts): RunFigures {
  const { job, setUp, machine, wire, runs, feeds } = parts;
  const { rates } = job.book;
  const { totals } = setUp;
  const passes = feeds.map((feed, k) => {
    const says = `Path of pass ${k + 1} over ${setUp.layouts.length} feature(s), with lead-ins and tabs`;
    const pathMm = given(k === 0 ? totals.roughMm : totals.skimMm, 'mm', says, PLANNED_PATH);
    return { pathMm, burnMin: burnTime(pathMm, feed) };
  });
  const burnMin = sumOf(Object.fromEntries(passes.map((p, k) => [`pass ${k + 1}`, p.burnMin])));
  const threadings = threadingsOf(totals, feeds.length);
  const threadMin = threadingTime(machine, threadings);
  const visitMin =
    totals.visits === 0
      ? null
      : sumOf({
          'walking there': timesMin(totals.visits, rates.visitMin, 'Visits'),
          'pieces taken out': timesMin(totals.pieces, rates.slugVisitMin, 'Pieces taken out'),
        });
  // Threading by hand is attended work; a machine that threads by itself runs on alone.
  const machineMin = sumOf({
    burning: burnMin,
    ...(machine.autoThread ? { threading: threadMin } : {}),
    'filling and draining': machine.fillMin,
  });
  const runCount = given(runs, '1', 'Runs', PLANNED_PATH);
  const attendedMin = sumOf({
    'set-up': perRun(setUpsOf(rates, runs, parts.isFirst), runs),
    unloading: rates.unloadMin,
    ...(visitMin === null ? {} : { visits: visitMin }),
    ...(machine.autoThread ? {} : { 'threading by hand': threadMin }),
  });
  const useM = wireUseM(burnMin, wire.speedMPerMin);
  const useKg = wireUseKg(useM, wire);
  const all = (t: Figure, says: string): Figure => timesMin(runCount, t, says);
  const machineAll = all(machineMin, 'Runs');
  const attendedAll = all(attendedMin, 'Runs');
  const cost: Record<string, Figure> = {
    machine: apply(AT_RATE, { t: sumOf({ 'running alone': machineAll, attended: attendedAll }), r: machine.ratePerH }),
    consumables: apply(AT_RATE, { t: machineAll, r: rates.consumablesPerH }),
    labour: apply(AT_RATE, { t: attendedAll, r: rates.labourPerH }),
    wire: wireCost(wireUseKg(wireUseM(all(burnMin, 'Runs'), wire.speedMPerMin), wire), wire),
  };
  const price = rates.materialPricePerKg[job.material.id];
  if (price !== undefined) {
    cost.material = apply(MATERIAL, {
      A: given(plateAreaMm2(setUp), 'mm2', 'Area of the plate', PLANNED_PATH),
      H: burnHeight(job.request, parts.stack),
      n: runCount,
      rho: job.material.densityGPerCm3,
      p: price,
    });
  }
  const { drill } = setUp;
  if (parts.drillingMin !== null && drill !== null) {
    const drillSetUps = all(drillAttendedMin(job, drill, setUp.holes), 'Runs');
    const drilling = all(parts.drillingMin, 'Runs');
    cost['drilling start holes'] = apply(AT_RATE, {
      t: sumOf({ drilling, 'set-ups and tube changes': drillSetUps }),
      r: drill.ratePerH,
    });
    cost['drill set-ups by hand'] = apply(AT_RATE, { t: drillSetUps, r: rates.labourPerH });
    cost['drill consumables'] = apply(AT_RATE, { t: drilling, r: rates.consumablesPerH });
  }
  return {
    passes,
    burnMin,
    machineMin,
    attendedMin,
    threadings,
    useM,
    useKg,
    drillMin: parts.drillingMin,
    comparisonCost: sumOf(cost),
  };
}

function plateAreaMm2({ stock }: SetUp): number {
  const { plate } = stock;
  return (plate.maxX - plate.minX) * (plate.maxY - plate.minY);
}

const GRAMS_PER_KG = 1000;

/**
 * What one further run costs, without figures: the search asks for it for every wire, machine, stack and ladder. All
 * runs and {@link firstSetUpCost} together are the value of the comparison cost, to rounding (tested).
 */
export function runCostNumber(
  parts: Omit<RunParts, 'feeds' | 'drillingMin' | 'runs' | 'isFirst'>,
  feeds: readonly number[],
  drilling: number,
): number {
  const { job, setUp, machine, wire } = parts;
  const { rates } = job.book;
  const { totals } = setUp;
  let burn = 0;
  for (let k = 0; k < feeds.length; k++) burn += (k === 0 ? totals.roughMm : totals.skimMm) / feeds[k]!;
  const thread = threadingsOf(totals, feeds.length) * machine.threadMin.value;
  const visit = totals.visits * rates.visitMin.value + totals.pieces * rates.slugVisitMin.value;
  const machineMin = burn + (machine.autoThread ? thread : 0) + machine.fillMin.value;
  const attendedMin = rates.repeatSetUpMin.value + rates.unloadMin.value + visit + (machine.autoThread ? 0 : thread);
  const kgPerM = ((Math.PI / 4) * wire.diameterMm ** 2 * wire.densityGPerCm3.value) / GRAMS_PER_KG;
  const labour = rates.labourPerH.value;
  const consumables = rates.consumablesPerH.value;
  let cost = ((machineMin + attendedMin) / 60) * machine.ratePerH.value;
  cost += (machineMin / 60) * consumables + (attendedMin / 60) * labour;
  cost += burn * wire.speedMPerMin.value * kgPerM * wire.pricePerKg.value;
  const price = rates.materialPricePerKg[job.material.id]?.value ?? 0;
  const volumeMm3 = plateAreaMm2(setUp) * job.request.heightMm * parts.stack;
  cost += (volumeMm3 * job.material.densityGPerCm3.value * price) / 1e6;
  const { drill } = setUp;
  if (drill !== null && totals.holes > 0) {
    const drillSetUp = drill.setUpMin.value + (setUp.holes.length - 1) * rates.tubeChangeMin.value;
    cost += ((drilling + drillSetUp) / 60) * drill.ratePerH.value;
    cost += (drillSetUp / 60) * labour + (drilling / 60) * consumables;
  }
  return cost;
}

/** What the job's first set-up costs more than that of a further run. */
export function firstSetUpCost(job: Job, machine: WireMachine): number {
  const { rates } = job.book;
  const moreMin = rates.setUpMin.value - rates.repeatSetUpMin.value;
  return (moreMin / 60) * (machine.ratePerH.value + rates.labourPerH.value);
}
