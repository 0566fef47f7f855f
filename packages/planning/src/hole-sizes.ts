import { type Figure, sumOf } from '@gapwright/base';
import { type DrillMachine, estimateDrilledHole, type ShopBook, timesMin, type Wire } from '@gapwright/process';
import type { Job } from './job.js';
import type { ShapeLayout } from './layout.js';

/** Start holes of one size in a set-up. */
export interface HoleGroup {
  readonly sizeMm: number;
  readonly count: number;
}

/** Sizes are compared as written, so that 0.25 + 0.3 admits a 0.55 hole, mm. */
const SIZE_MM = 1e-9;

/**
 * Sizes that take the wire and can be drilled this deep: first the one nearest to what the shop prefers for this wire,
 * then smaller ones, for places without room. Sizes above the preferred one only where nothing nearer reaches the depth.
 */
export function drillableSizes(job: Job, wire: Wire, depthMm: number): number[] {
  const { startHoleOverWireRatio, startHoleMinMm } = job.book.rules;
  const preferredMm = Math.max(startHoleOverWireRatio.value * wire.diameterMm, startHoleMinMm.value);
  const sizes = sizesForWire(job, wire, depthMm);
  let first = 0;
  for (const [i, sizeMm] of sizes.entries()) {
    if (Math.abs(sizeMm - preferredMm) < Math.abs(sizes[first]! - preferredMm) - SIZE_MM) first = i;
  }
  return sizes.slice(first);
}

/** All sizes that take the wire and can be drilled this deep, largest first. */
export function sizesForWire({ book, material }: Job, wire: Wire, depthMm: number): number[] {
  const leastMm = wire.diameterMm + book.rules.holeOverWireMm.value;
  const canDrill = material.drillFeedMmPerMin !== null;
  return book.startHoleSizesMm
    .filter((sizeMm) => sizeMm >= leastMm - SIZE_MM)
    .filter((sizeMm) => !canDrill || drillFor(book, [sizeMm], depthMm) !== null)
    .sort((a, b) => b - a);
}

/** The cheapest machine that drills all these sizes this deep; null when none does. */
export function drillFor(book: ShopBook, sizesMm: readonly number[], depthMm: number): DrillMachine | null {
  let best: DrillMachine | null = null;
  for (const machine of book.drillMachines) {
    if (depthMm > machine.maxDepthMm) continue;
    const isAble = sizesMm.every(
      (sizeMm) => machine.holeSizesMm.includes(sizeMm) && depthMm <= book.rules.drillMaxDepthRatio.value * sizeMm,
    );
    if (isAble && (best === null || machine.ratePerH.value < best.ratePerH.value)) best = machine;
  }
  return best;
}

/** The drilled holes by size, largest first. */
export function holeGroups(layouts: readonly ShapeLayout[]): HoleGroup[] {
  const counts = new Map<number, number>();
  for (const { entry } of layouts) {
    if (!entry.fromEdge) counts.set(entry.diameterMm, (counts.get(entry.diameterMm) ?? 0) + 1);
  }
  return [...counts].map(([sizeMm, count]) => ({ sizeMm, count })).sort((a, b) => b.sizeMm - a.sizeMm);
}

/**
 * The size each feature shall get, when it is not the largest it has room for: one size for all, or two when the larger
 * is the preferred one and serves at least half of the holes, which is worth changing the tube. Null: all is well.
 */
export function agreeOnSizes(
  layouts: readonly ShapeLayout[],
  preferredMm: number,
  canDrillBoth: (smallerMm: number) => boolean,
): ((layout: ShapeLayout) => number) | null {
  const groups = holeGroups(layouts);
  const last = groups.at(-1);
  if (last === undefined || groups.length === 1) return null;
  const preferred = groups.find((g) => g.sizeMm === preferredMm)?.count ?? 0;
  const holes = groups.reduce((sum, g) => sum + g.count, 0);
  const isWorthIt = 2 * preferred >= holes && canDrillBoth(last.sizeMm);
  return ({ entry }) => (isWorthIt && entry.diameterMm === preferredMm ? preferredMm : last.sizeMm);
}

/** What drilling needs to know of a set-up. */
export interface Drilled {
  readonly drill: DrillMachine | null;
  readonly holes: readonly HoleGroup[];
}

/** Minutes for all start holes of one run, tube changes apart; null when nothing is drilled here. */
export function drillingMin({ book, material, request }: Job, { drill, holes }: Drilled, stack: number): Figure | null {
  if (drill === null || holes.length === 0) return null;
  const depthMm = request.heightMm * stack;
  const each: Record<string, Figure> = {};
  for (const { sizeMm, count } of holes) {
    const one = estimateDrilledHole({ book, material, machine: drill, diameterMm: sizeMm, depthMm }).value;
    if (one === null) return null;
    each[`holes of ${sizeMm} mm`] = timesMin(count, one.perHoleMin, 'Start holes');
  }
  return sumOf(each);
}

/** Attended minutes of one drilling: the set-up, and a change of tube for each further size. */
export function drillAttendedMin({ book }: Job, drill: DrillMachine, holes: readonly HoleGroup[]): Figure {
  const changes = holes.length - 1;
  if (changes <= 0) return sumOf({ 'set-up': drill.setUpMin });
  const changeMin = timesMin(changes, book.rates.tubeChangeMin, 'Tube changes');
  return sumOf({ 'set-up': drill.setUpMin, 'tube changes': changeMin });
}
