import { type Figure, type Problem, problem, sumOf } from '@gapwright/base';
import { findWire, findWireMachine, timesMin, type Wire, type WireMachine } from '@gapwright/process';
import { type Batch, type Candidate, searchWire, type WireSearch } from './candidates.js';
import { drillingMin } from './hole-sizes.js';
import type { Job } from './job.js';
import type { WireOption } from './plan.js';
import { type RunFigures, runFigures } from './run-cost.js';
import { wireProblems } from './wire-problems.js';

/** The chosen way to burn the job, with its figures. */
export interface Chosen {
  readonly candidate: Candidate;
  readonly batches: readonly ChosenBatch[];
  /** Burning time of the whole quantity. */
  readonly burnMin: Figure;
  readonly comparisonCost: Figure;
}

/** One batch with the figures of its runs. */
export interface ChosenBatch {
  readonly batch: Batch;
  readonly run: RunFigures;
  /** True for the batch that starts the job. */
  readonly isFirst: boolean;
}

export interface WireChoice {
  readonly options: readonly WireOption[];
  /** Null when nothing fits or the planner's own choice does not. */
  readonly chosen: Chosen | null;
  readonly problems: readonly Problem[];
}

export interface Planned {
  readonly search: WireSearch;
  readonly problems: readonly Problem[];
  readonly chosen: Chosen | null;
}

/**
 * Plans every wire of the shop book on its cheapest machine; when the planner states a machine, the wires are planned on
 * that one as well. The planner's wire and machine are obeyed; else the cheapest wire is chosen.
 */
export function chooseWire(job: Job): WireChoice {
  const { book, request } = job;
  const unknown = unknownChoice(job);
  if (unknown.length > 0) return { options: [], chosen: null, problems: unknown };
  const free = planAll(job, book.wireMachines);
  const machine = request.machineId === undefined ? undefined : findWireMachine(book, request.machineId);
  const forced = machine === undefined ? [] : planAll(job, [machine]);
  const pool = machine === undefined ? free : forced;
  const wireId = request.wireId === undefined ? undefined : findWire(book, request.wireId)?.id;
  const allowed = wireId === undefined ? pool : pool.filter((p) => p.search.wire.id === wireId);
  const pick = cheapestOf(allowed);

  const shown = [...free];
  for (const p of forced) {
    const same = free.find((f) => f.search.wire === p.search.wire);
    const isSame = same?.chosen?.candidate.machine === p.chosen?.candidate.machine;
    // Of the stated machine only the chosen way is shown beside the computed ones.
    if (p === pick && !isSame) shown.push(p);
  }
  const marked =
    forced.includes(pick as Planned) && !shown.includes(pick as Planned)
      ? free.find((f) => f.search.wire === pick?.search.wire)
      : pick;
  const cheapest = cheapestOf(free);
  const fastest = fastestOf(free);
  const options = shown.map((p): WireOption => {
    const marks: WireOption['marks'][number][] = [];
    if (p === cheapest) marks.push('cheapest');
    if (p === fastest) marks.push('fastest');
    if (p === marked) marks.push('chosen');
    return {
      wireId: p.search.wire.id,
      machineId: p.chosen?.candidate.machine.id ?? machineNameFor(p, job),
      fits: p.chosen !== null,
      problems: p.problems,
      burnMin: p.chosen?.burnMin ?? null,
      comparisonCost: p.chosen?.comparisonCost ?? null,
      marks,
    };
  });
  const problems = pick === undefined ? nothingFits(job, allowed) : costlier(pick, cheapest);
  return { options, chosen: pick?.chosen ?? null, problems };
}

/** Plans each of the wires on its cheapest machine of those given. */
export function planAll(
  job: Job,
  machines: readonly WireMachine[],
  wires: readonly Wire[] = job.book.wires,
): Planned[] {
  const searches = wires.map((wire) => searchWire(job, wire, machines));
  return searches.map((search): Planned => {
    if (search.best === null) {
      return { search, problems: wireProblems(job, search, searches), chosen: null };
    }
    return { search, problems: [], chosen: withFigures(job, search.best) };
  });
}

function withFigures(job: Job, candidate: Candidate): Chosen {
  const { machine, wire } = candidate;
  const batches = candidate.batches.map((batch, i): ChosenBatch => {
    const { setUp, stack, runs } = batch;
    const feeds = batch.ladder.levels.map((k) => batch.estimates[k]!.feedMmPerMin);
    const isFirst = i === 0;
    const parts = {
      job,
      setUp,
      machine,
      wire,
      stack,
      runs,
      isFirst,
      feeds,
      drillingMin: drillingMin(job, setUp, stack),
    };
    return { batch, run: runFigures(parts), isFirst };
  });
  const over = (figure: (b: ChosenBatch) => Figure): Figure => {
    const each = batches.map((b): [string, Figure] => [`stacks of ${b.batch.stack}`, figure(b)]);
    return each.length === 1 ? each[0]![1] : sumOf(Object.fromEntries(each));
  };
  const burnMin = over(({ batch, run }) => timesMin(batch.runs, run.burnMin, 'Runs'));
  return { candidate, batches, burnMin, comparisonCost: over(({ run }) => run.comparisonCost) };
}

/** The wire whose plan costs least; undefined when none fits. */
export function cheapestOf(planned: readonly Planned[]): Planned | undefined {
  let best: Planned | undefined;
  for (const p of planned) {
    if (p.chosen === null) continue;
    if (best === undefined || p.chosen.candidate.cost < best.chosen!.candidate.cost) best = p;
  }
  return best;
}

function fastestOf(planned: readonly Planned[]): Planned | undefined {
  let best: Planned | undefined;
  for (const p of planned) {
    if (p.chosen === null) continue;
    if (best === undefined || p.chosen.burnMin.value < best.chosen!.burnMin.value) best = p;
  }
  return best;
}

/** For a wire that does not fit, the first machine that runs it; empty when none does. */
function machineNameFor(p: Planned, job: Job): string {
  return job.book.wireMachines.find((m) => m.wireIds.includes(p.search.wire.id))?.id ?? '';
}

function unknownChoice(job: Job): Problem[] {
  const { request, book } = job;
  const out: Problem[] = [];
  if (request.wireId !== undefined && findWire(book, request.wireId) === undefined) {
    const what = `Wire "${request.wireId}" is not in the shop book`;
    const fix = `Choose one of ${book.wires.map((w) => w.id).join(', ')}`;
    out.push(problem({ code: 'WIRE-UNKNOWN', severity: 'stop', what, fix, at: { field: 'wireId' } }));
  }
  if (request.machineId !== undefined && findWireMachine(book, request.machineId) === undefined) {
    const what = `Machine "${request.machineId}" is not a wire machine of the shop book`;
    const fix = `Choose one of ${book.wireMachines.map((m) => m.id).join(', ')}`;
    out.push(problem({ code: 'WIRE-MACHINE-UNKNOWN', severity: 'stop', what, fix, at: { field: 'machineId' } }));
  }
  return out;
}

/** The reasons of the wire that comes nearest: the one with the fewest stop problems, the thinner of two. */
export function nothingFits(job: Job, allowed: readonly Planned[]): Problem[] {
  const { wireId, machineId } = job.request;
  const nearest = [...allowed].sort(
    (a, b) => a.problems.length - b.problems.length || a.search.wire.diameterMm - b.search.wire.diameterMm,
  )[0];
  const whom = wireId !== undefined ? `Wire ${wireId}` : 'No wire of the shop book';
  const where = machineId === undefined ? '' : ` on machine ${machineId}`;
  const what = wireId !== undefined ? `${whom} cannot burn this${where}` : `${whom} can burn this${where}`;
  const fix = 'See the reasons for each wire';
  return [problem({ code: 'WIRE-NONE-FITS', severity: 'stop', what, fix }), ...(nearest?.problems ?? [])];
}

/** Says what the planner's own choice costs beside the computed one. */
function costlier(pick: Planned, cheapest: Planned | undefined): Problem[] {
  if (cheapest === undefined || cheapest.chosen === null || pick.chosen === null) return [];
  const more = pick.chosen.candidate.cost / cheapest.chosen.candidate.cost - 1;
  if (more <= SAME_COST_SHARE) return [];
  const { wire, machine } = cheapest.chosen.candidate;
  const what = `The chosen wire ${pick.search.wire.id} on ${pick.chosen.candidate.machine.id} costs ${(more * 100).toFixed(0)} % more than ${wire.id} on ${machine.id}`;
  return [problem({ code: 'WIRE-CHOICE-COSTLIER', severity: 'info', what })];
}

/** Costs within half a per cent of each other are the same choice for a planner. */
export const SAME_COST_SHARE = 0.005;
