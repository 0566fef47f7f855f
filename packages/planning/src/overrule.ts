import { type Problem, problem } from '@gapwright/base';
import { choicesOf } from './computed-choices.js';
import type { Job } from './job.js';
import { wireOperation } from './operations.js';
import { changedOnly, choicesWithout } from './override-compare.js';
import type { ComputedChoices, WireOption, WireOverrides } from './plan.js';
import { overruledJob } from './prepare-job.js';
import {
  type Chosen,
  cheapestOf,
  nothingFits,
  type Planned,
  planAll,
  SAME_COST_SHARE,
  type WireChoice,
} from './wire-choice.js';

/** The choice after what the planner overruled, with the job as it is then planned. */
export interface Decision extends WireChoice {
  readonly job: Job;
  /** For each batch what is planned with nothing overruled; null when the plan's own choices are the plan. */
  readonly computed: readonly ComputedChoices[] | null;
}

/**
 * Applies what the planner overruled. Wire, machine, stacks and passes stay those of the computed choice, so that nothing changes
 * but what was overruled; where nothing could be computed, all wires are tried with the planner's decisions. Decisions
 * equal to the computed ones change nothing at all.
 */
export function overrule(job: Job, choice: WireChoice, overrides: WireOverrides): Decision {
  const { chosen } = choice;
  if (Object.values(overrides).every((o) => o === undefined || Object.keys(o).length === 0)) {
    return { ...choice, job, computed: null };
  }
  if (chosen === null) return tryAll(job, choice, overrides);
  const computed = chosen.batches.map((batch) => choicesOf(wireOperation(job, chosen, batch, 0)));
  const changed = changedOnly(overrides, computed);
  if (changed === null) return { ...choice, job, computed };
  const { wire, machine, batches } = chosen.candidate;
  const settled = batches.map(({ stack, runs, ladder }) => ({ stack, runs, levels: ladder.levels }));
  const next = overruledJob(job, changed, settled, false);
  const planned = planAll(next, [machine], [wire])[0]!;
  const decided = { job: next, computed };
  if (planned.chosen === null) return { ...decided, options: choice.options, chosen: null, problems: planned.problems };
  return {
    ...decided,
    options: withOverruled(choice.options, planned),
    chosen: planned.chosen,
    problems: [...choice.problems, ...costDifference(planned.chosen, chosen)],
  };
}

/** Nothing fits by itself: what the planner overrules may be the way out. */
function tryAll(job: Job, choice: WireChoice, overrides: WireOverrides): Decision {
  const { book, request } = job;
  const machines = book.wireMachines.filter((m) => request.machineId === undefined || m.id === request.machineId);
  // An unknown wire or machine is told already.
  if (choice.options.length === 0) return { ...choice, job, computed: null };
  let next = overruledJob(job, overrides, null, true);
  // All wires are looked at, so that the reasons can name one that would do.
  const plan = (): Planned[] => {
    const all = planAll(next, machines);
    return request.wireId === undefined ? all : all.filter((p) => p.search.wire.id === request.wireId);
  };
  let all = plan();
  if (cheapestOf(all) === undefined && overrides.passLevels !== undefined) {
    next = overruledJob(job, overrides, null, false);
    all = plan();
  }
  const pick = cheapestOf(all);
  if (pick === undefined || pick.chosen === null) {
    return { options: choice.options, chosen: null, problems: nothingFits(next, all), job: next, computed: null };
  }
  const { chosen } = pick;
  const computed = chosen.batches.map(({ batch }) => choicesWithout(next, job, chosen.candidate, batch));
  return { job: next, computed, options: withOverruled(choice.options, pick), chosen, problems: [] };
}

/** The overruled wire as a row of its own behind the computed ones, which stay for comparison. */
function withOverruled(options: readonly WireOption[], { search, chosen }: Planned): WireOption[] {
  const computed = options.map((o): WireOption => ({ ...o, marks: o.marks.filter((m) => m !== 'chosen') }));
  const own: WireOption = {
    wireId: search.wire.id,
    machineId: chosen!.candidate.machine.id,
    fits: true,
    problems: [],
    burnMin: chosen!.burnMin,
    comparisonCost: chosen!.comparisonCost,
    marks: ['chosen', 'overruled'],
  };
  return [...computed, own];
}

/** Says what overruling costs or saves beside the computed choice. */
function costDifference(planned: Chosen, computed: Chosen): Problem[] {
  const share = planned.candidate.cost / computed.candidate.cost - 1;
  if (Math.abs(share) <= SAME_COST_SHARE) return [];
  const percent = (Math.abs(share) * 100).toFixed(Math.abs(share) < 0.1 ? 1 : 0);
  const what = `What was overruled costs ${percent} % ${share > 0 ? 'more' : 'less'} than the computed choice on the same wire, machine and stacks`;
  return [problem({ code: 'PLAN-OVERRULED-COST', severity: 'info', what, at: { field: 'overrides' } })];
}
