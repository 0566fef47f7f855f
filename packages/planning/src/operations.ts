import { BY_DEFINITION, type Figure, given } from '@gapwright/base';
import {
  cautionsFor,
  type DrillMachine,
  passOffset,
  type ShopRules,
  slugVisitTime,
  timesMin,
} from '@gapwright/process';
import { proposedCornerRadius } from './candidates.js';
import { placeAt } from './contour-walk.js';
import { drillAttendedMin, type HoleGroup } from './hole-sizes.js';
import type { Job } from './job.js';
import { type ShapeLayout, tabMmOf } from './layout.js';
import { raLeft, recastLeft } from './pass-ladder.js';
import type { DrillOperation, Slug, StartHole, Touch, WireOperation, WirePass } from './plan.js';
import { perRun, setUpsOf } from './run-cost.js';
import { burnHeight } from './set-up.js';
import type { SlugPlan } from './slugs.js';
import { type OrderedWork, orderWork } from './steps.js';
import type { Chosen, ChosenBatch } from './wire-choice.js';

/** The wire operation of one batch of the chosen candidate. */
export function wireOperation(job: Job, { candidate }: Chosen, chosen: ChosenBatch, number: number): WireOperation {
  const { wire, machine } = candidate;
  const { run } = chosen;
  const { stack, runs, setUp } = chosen.batch;
  const passes = wirePasses(job, candidate, chosen);
  const holes = startHoles(setUp.layouts);
  const work = orderWork(
    setUp.layouts,
    passes.map((p) => ({
      pass: p.pass,
      level: p.level,
      register: p.register,
      feedMmPerMin: p.feedMmPerMin.value,
      offsetMm: p.offsetMm.value,
    })),
    { x: setUp.stock.plate.minX, y: setUp.stock.plate.minY },
    job.overrides.order,
  );
  const slugs = setUp.layouts.filter((l) => l.slug !== null).map(slugOf);
  const isHeavy = setUp.layouts.some(({ slug }) => slug !== null && needsCare(slug, job.book.rules));
  return {
    number,
    title: `Wire cut ${setUp.layouts.length} feature${setUp.layouts.length === 1 ? '' : 's'}${togetherText(candidate, stack)}`,
    process: 'wire',
    machineId: machine.id,
    touches: wireTouches(job, chosen, work, machine.autoThread ? null : machine.threadMin),
    cautions: cautionsFor({
      process: 'wire',
      material: job.material,
      unattended: true,
      heavySlug: isHeavy,
      oil: false,
    }).map((c) => c.id),
    runs,
    machineMin: run.machineMin,
    attendedMin: run.attendedMin,
    wireId: wire.id,
    wireDiameterMm: wire.diameterMm,
    stack,
    burnHeightMm: burnHeight(job.request, stack).value,
    passes,
    startHoles: holes,
    slugs,
    keepOuts: setUp.stock.keepOuts,
    plate: setUp.stock.plate,
    agreedCornerRadiusMm: cornerRadiusMm(job, candidate),
    steps: work.steps,
    threadings: work.threadings,
    wireUseM: run.useM,
    wireUseKg: run.useKg,
    unattendedMin: run.machineMin,
  };
}

/** Heavy by the shop's rule, or let fall although it is heavier than the shop lets fall. */
function needsCare({ handling, byRule, massG }: SlugPlan, rules: ShopRules): boolean {
  if (handling === 'tab and support' || byRule === 'tab and support') return true;
  return handling === 'falls free' && massG.value > rules.freeFallMassG.value;
}

/** What tells the operations of two heights of stack apart; empty when there is one height. */
function togetherText({ batches }: Chosen['candidate'], stack: number): string {
  if (batches.length === 1) return '';
  return stack === 1 ? ', single plate' : `, ${stack} plates together`;
}

/**
 * Radius that sharp or tighter inside corners keep: as agreed, or what the last pass leaves, rounded up; 0 without any.
 * One radius for all batches, as the customer is asked once.
 */
export function cornerRadiusMm(job: Job, { batches, wire }: Chosen['candidate']): number {
  const agreed = job.request.agreedCornerRadiusMm;
  if (agreed !== undefined) return agreed;
  const hasSharp = job.shapes.some((s) => s.drawn.feature.sharpInsideCorners.length > 0);
  if (!hasSharp) return 0;
  const gapsMm = batches.map(({ ladder, estimates }) => estimates[ladder.levels.at(-1)!]!.gapMm.value);
  return proposedCornerRadius(wire.diameterMm / 2 + Math.max(...gapsMm));
}

function wirePasses(job: Job, { wire }: Chosen['candidate'], { batch, run }: ChosenBatch): WirePass[] {
  const { ladder, estimates } = batch;
  const used = ladder.levels.map((k) => estimates[k]!);
  let raUm: Figure | undefined;
  let recastUm: Figure | undefined;
  return used.map((estimate, k): WirePass => {
    const level = job.book.wireLevels[ladder.levels[k]!]!;
    raUm = raUm === undefined ? estimate.raUm : raLeft(estimate.raUm, raUm, estimate.stockMm);
    recastUm = recastUm === undefined ? estimate.recastUm : recastLeft(estimate.recastUm, recastUm, estimate.stockMm);
    const after = used.slice(k + 1).map((e) => e.stockMm);
    return {
      pass: k + 1,
      level: level.level,
      levelName: level.name,
      register: k + 1,
      gapMm: estimate.gapMm,
      stockMm: estimate.stockMm,
      offsetMm: passOffset(wire.diameter, estimate.gapMm, after),
      feedMmPerMin: estimate.feedMmPerMin,
      pathMm: run.passes[k]!.pathMm,
      burnMin: run.passes[k]!.burnMin,
      raUm,
      recastUm,
    };
  });
}

/** Numbers the start holes in the order of their features; one hole may serve several. */
function startHoles(layouts: readonly ShapeLayout[]): StartHole[] {
  return layouts.map((l, i) => ({
    id: `H${i + 1}`,
    at: l.entry.from,
    diameterMm: l.entry.diameterMm,
    features: [l.shape.feature.id],
    fromEdge: l.entry.fromEdge,
  }));
}

function slugOf(layout: ShapeLayout): Slug {
  const { shape, entry } = layout;
  const slug = layout.slug!;
  const tabMm = tabMmOf(layout);
  return {
    feature: shape.feature.id,
    piece: slug.piece,
    massG: slug.massG,
    handling: slug.handling,
    tabMm: slug.tab === null ? null : plannedTab(slug.tab, tabMm),
    tabFrom: tabMm > 0 ? placeAt(shape.walk, entry.place.s - tabMm).at : null,
    tabTo: tabMm > 0 ? entry.place.at : null,
  };
}

/** The tab as planned: by the rule, or longer where that would have ended in an inside corner. */
function plannedTab(byRule: Figure, tabMm: number): Figure {
  if (byRule.value === tabMm) return byRule;
  return given(tabMm, 'mm', 'Tab made longer, so that it ends clear of inside corners', BY_DEFINITION);
}

function wireTouches(job: Job, chosen: ChosenBatch, work: OrderedWork, threadMin: Figure | null): Touch[] {
  const { rates } = job.book;
  const { runs } = chosen.batch;
  const hold = chosen.batch.setUp.stock.needsFixture
    ? 'Hold the work in a fixture clear of kerf and guides, align it'
    : 'Clamp and align the work';
  const ready = chosen.isFirst ? 'mount the wire' : 'set the upper guide to the height of this stack';
  const says = `${hold}, set zero, ${ready}`;
  const out: Omit<Touch, 'id'>[] = [{ kind: 'set-up', says, min: perRun(setUpsOf(rates, runs, chosen.isFirst), runs) }];
  if (threadMin !== null) {
    const min = timesMin(work.threadings, threadMin, 'Threadings');
    out.push({ kind: 'check', says: `Thread the wire by hand ${work.threadings} times`, min });
  }
  for (const visit of work.visits) {
    const list = visit.features.length <= 6 ? visit.features.join(', ') : `${visit.features.length} features`;
    const says =
      visit.kind === 'slug'
        ? `Hold each slug, cut its tab and take it out: ${list}`
        : `Hold each part, cut its tab and take it out: ${list}`;
    out.push({ kind: visit.kind, says, min: slugVisitTime(rates, visit.features.length) });
  }
  out.push({ kind: 'unload', says: 'Take the frame out, wipe the machine', min: rates.unloadMin });
  return out.map((t, i) => ({ id: `T${i + 1}`, ...t }));
}

/** Drilling of the start holes; null when none are drilled here. */
export function drillOperation(job: Job, { batch, run }: ChosenBatch, number: number): DrillOperation | null {
  const { setUp, stack, runs } = batch;
  const drill: DrillMachine | null = setUp.drill;
  if (drill === null || run.drillMin === null) return null;
  const holes = startHoles(setUp.layouts).filter((h) => !h.fromEdge);
  const touches: Omit<Touch, 'id'>[] = [
    { kind: 'set-up', says: 'Clamp and align the plate, fit the tube, set zero', min: drill.setUpMin },
    ...setUp.holes.slice(1).map(({ sizeMm }): Omit<Touch, 'id'> => {
      const says = `Change the tube for holes of ${sizeMm} mm, touch off again`;
      return { kind: 'set-up', says, min: job.book.rates.tubeChangeMin };
    }),
  ];
  return {
    number,
    title: `Drill ${holesText(setUp.holes)}${stack > 1 ? `, ${stack} plates together` : ''}`,
    process: 'drill',
    machineId: drill.id,
    touches: touches.map((t, i) => ({ id: `T${i + 1}`, ...t })),
    cautions: cautionsFor({
      process: 'drill',
      material: job.material,
      unattended: false,
      heavySlug: false,
      oil: false,
    }).map((c) => c.id),
    runs,
    machineMin: run.drillMin,
    attendedMin: drillAttendedMin(job, drill, setUp.holes),
    passes: [],
    // In the order of drilling: one tube after the other.
    holes: holes.sort((a, b) => b.diameterMm - a.diameterMm),
  };
}

/** `4 start holes of 1 mm`, `3 start holes of 1 mm and 2 of 0.6 mm`. */
function holesText(groups: readonly HoleGroup[]): string {
  const first = groups[0]!;
  const rest = groups.slice(1).map((g) => ` and ${g.count} of ${g.sizeMm} mm`);
  return `${first.count} start hole${first.count === 1 ? '' : 's'} of ${first.sizeMm} mm${rest.join('')}`;
}
