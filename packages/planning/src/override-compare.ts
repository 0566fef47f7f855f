import { distanceMm } from '@gapwright/geometry';
import type { Batch, Candidate } from './candidates.js';
import { holePlace, orderOf } from './computed-choices.js';
import type { Job } from './job.js';
import type { ComputedChoices, SlugHandling, StartHolePlace, WireOverrides } from './plan.js';
import { overruledJob } from './prepare-job.js';
import { planSetUp } from './set-up.js';
import { orderWork } from './steps.js';
import { planAll } from './wire-choice.js';

/** Lengths and places nearer than this are the same, mm: rounding of numbers in files. */
const SAME_MM = 1e-9;

/**
 * What differs from the computed choices of all batches; null when nothing does. Holes, tabs and handling decide about
 * each other, so they are kept or dropped together.
 */
export function changedOnly(overrides: WireOverrides, computed: readonly ComputedChoices[]): WireOverrides | null {
  const { passLevels, startHoles, slugHandling, tabMm, order } = overrides;
  const isSame = (test: (c: ComputedChoices) => boolean): boolean => computed.every(test);
  const samePasses = passLevels === undefined || isSame((c) => passLevels.join() === c.passLevels?.join());
  const samePieces = isSame(
    (c) =>
      Object.entries(startHoles ?? {}).every(([id, place]) => isSamePlace(place, c.startHoles[id])) &&
      Object.entries(slugHandling ?? {}).every(([id, handling]) => handling === c.slugHandling[id]) &&
      Object.entries(tabMm ?? {}).every(([id, mm]) => Math.abs(mm - (c.tabMm[id] ?? 0)) <= SAME_MM),
  );
  const sameOrder = isSame((c) => (order ?? []).every((id, i) => c.order[i] === id));
  if (samePasses && samePieces && sameOrder) return null;
  return {
    ...(samePasses ? {} : { passLevels }),
    ...(samePieces || startHoles === undefined ? {} : { startHoles }),
    ...(samePieces || slugHandling === undefined ? {} : { slugHandling }),
    ...(samePieces || tabMm === undefined ? {} : { tabMm }),
    ...(order === undefined ? {} : { order }),
  };
}

function isSamePlace(a: StartHolePlace, b: StartHolePlace | undefined): boolean {
  if (b === undefined || (a.fromEdge ?? false) !== (b.fromEdge ?? false)) return false;
  if (a.diameterMm !== undefined && a.diameterMm !== b.diameterMm) return false;
  return distanceMm(a, b) <= SAME_MM;
}

/**
 * What can be computed for a batch that only came about by overruling: passes with all else as overruled, start holes
 * where there is room for one, handling by the rules, and the order of what has a start hole, then the rest.
 */
export function choicesWithout(next: Job, job: Job, { wire, machine }: Candidate, batch: Batch): ComputedChoices {
  const { stack, runs, estimates, ladder } = batch;
  const { book } = job;
  const levelsOf = (indexes: readonly number[]): number[] => indexes.map((k) => book.wireLevels[k]!.level);
  const { passLevels: stated, ...rest } = next.overrides;
  let passLevels: readonly number[] | null = levelsOf(ladder.levels);
  if (stated !== undefined) {
    const free = planAll(overruledJob(job, rest, [{ stack, runs, levels: null }], true), [machine], [wire])[0];
    const found = free?.chosen?.candidate.batches[0];
    passLevels = found === undefined ? null : levelsOf(found.ladder.levels);
  }
  const offsetMm = estimates.reduce(
    (sum, e, k) => sum + (k === 0 ? e.gapMm.value : e.stockMm.value),
    wire.diameterMm / 2,
  );
  const setUp = planSetUp(job, wire, stack, offsetMm, machine.guideClearanceMm);
  const { minX: x, minY: y } = setUp.stock.plate;
  const passes = ladder.levels.map((k, i) => ({
    pass: i + 1,
    level: book.wireLevels[k]!.level,
    register: i + 1,
    feedMmPerMin: estimates[k]!.feedMmPerMin.value,
    offsetMm,
  }));
  const inOrder = orderOf(orderWork(setUp.layouts, passes, { x, y }).steps);
  const ids = job.shapes.map((s) => s.drawn.feature.id);
  const slugHandling: Record<string, SlugHandling> = {};
  const tabMm: Record<string, number> = {};
  for (const [i, slug] of job.slugsOf(stack).entries()) {
    if (slug === null) continue;
    slugHandling[ids[i]!] = slug.handling;
    if (slug.tab !== null) tabMm[ids[i]!] = slug.tabMm;
  }
  return {
    operation: 0,
    passLevels,
    startHoles: Object.fromEntries(
      setUp.layouts.map(({ shape, entry }) => [shape.feature.id, holePlace({ at: entry.from, ...entry })]),
    ),
    slugHandling,
    tabMm,
    order: [...inOrder, ...ids.filter((id) => !inOrder.includes(id))],
  };
}
