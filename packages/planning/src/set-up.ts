import { type Figure, given, type Problem, problem, STATED_FOR_JOB } from '@gapwright/base';
import type { Box } from '@gapwright/geometry';
import type { DrillMachine, Wire } from '@gapwright/process';
import { noHole } from './hole-problems.js';
import { agreeOnSizes, drillableSizes, drillFor, type HoleGroup, holeGroups, sizesForWire } from './hole-sizes.js';
import type { Job } from './job.js';
import { type ShapeLayout, tabMmOf } from './layout.js';
import { featureLengths } from './path-lengths.js';
import type { WireRequest } from './plan.js';
import type { Shape } from './shape.js';
import type { DrawnShape } from './shapes.js';
import { chooseEntry, type Entry, type Hole, type HoleNeeds } from './start-holes.js';
import { statedEntry } from './stated-hole.js';
import { type PlannedStock, planStock } from './stock.js';
import { type WorkBlock, workBlocks } from './work-order.js';

/** Sums over all features of one set-up; everything the cost of a run needs besides the passes. */
export interface SetUpTotals {
  /** First pass with all lead-ins, tabs and tab cuts, mm. */
  readonly roughMm: number;
  /** Each skim, mm. */
  readonly skimMm: number;
  readonly threadings: number;
  /** Further threadings when there are skims. */
  readonly skimThreadings: number;
  /** Visits of a person while the machine waits, and pieces taken out in them. */
  readonly visits: number;
  readonly pieces: number;
  /** Drilled start holes. */
  readonly holes: number;
}

/** All features laid out on the plate for one wire, stack and clearance of guides. */
export interface SetUp {
  readonly layouts: readonly ShapeLayout[];
  readonly stock: PlannedStock;
  readonly totals: SetUpTotals;
  /** Drilled start holes by size, largest first. */
  readonly holes: readonly HoleGroup[];
  readonly drill: DrillMachine | null;
  /** Where the wire goes: around all contours and start holes, mm. */
  readonly reach: Box;
  /** Stop problems: a start hole fits nowhere. */
  readonly problems: readonly Problem[];
}

/** Lead-outs into the waste reach this far beyond the rough path, mm: they only take compensation off. */
const LEAD_OUT_MM = 0.1;

/** Burned height of a stack as a figure. */
export function burnHeight(request: WireRequest, stack: number): Figure {
  const says = stack === 1 ? 'Plate height' : `Height of ${stack} plates`;
  return given(request.heightMm * stack, 'mm', says, STATED_FOR_JOB);
}

/**
 * What one wire's set-ups of one stack share, by number of the shape and hole sizes allowed: openings do not feel where
 * the clamps are when the plate is ours to choose.
 */
export type KnownOpenings = Map<string, ShapeLayout>;

/** Lays out all features. `offsetMm` is the largest first offset any ladder of the wire needs. */
export function planSetUp(
  job: Job,
  wire: Wire,
  stack: number,
  offsetMm: number,
  guideMm: number,
  known: KnownOpenings = new Map(),
): SetUp {
  const { request } = job;
  const { rules } = job.book;
  const shapes = job.shapes.map((s) => shapeFor(s, offsetMm));
  const stock = planStock(request, job.blank, job.drawing, shapes, guideMm, rules);
  const isOurPlate = request.plate === undefined && request.keepOuts === undefined && job.blank === null;
  const slugs = job.slugsOf(stack);
  const blocks = workBlocks(shapes, (s) => s, job.overrides.order);
  const alone = aloneOutlines(blocks);
  const stated = job.overrides.startHoles ?? {};
  const unsuitable = new Map<number, Problem>();
  const depthMm = request.heightMm * stack;
  const canDrill = job.material.drillFeedMmPerMin !== null;
  const needsOf = (i: number, sizesMm: readonly number[], others: readonly Hole[]): HoleNeeds => ({
    sizesMm,
    offsetMm,
    outMm: outMmFor(shapes[i]!, offsetMm),
    clearMm: rules.holeToContourMm.value,
    ends: { tabMm: slugs[i]?.tabMm ?? 0, overlapMm: rules.tabOverlapMm.value, closeMm: rules.entryOverlapMm.value },
    rimMm: HOLE_RIM_MM,
    guideMm: stock.hasRuleClamps ? 0 : guideMm,
    others,
  });
  const layOut = (i: number, sizesMm: readonly number[], others: readonly Hole[]): ShapeLayout | null => {
    const shape = shapes[i]!;
    // Openings lie in waste of their own, so holes of others do not matter to them.
    const isOpening = shape.feature.role === 'opening';
    const key = `${i}/${sizesMm.join()}`;
    const isShared = isOurPlate && isOpening && stated[shape.feature.id] === undefined;
    const shared = isShared ? known.get(key) : undefined;
    if (shared !== undefined) return shared;
    const needs = needsOf(i, sizesMm, isOpening ? [] : others);
    const place = stated[shape.feature.id];
    let entry: Entry | null;
    if (place === undefined) entry = chooseEntry(shape, needs, stock);
    else {
      const found = statedEntry(shape, place, { needs, stock, wire, sizesMm: sizesForWire(job, wire, depthMm) });
      if (found.problem !== null) unsuitable.set(i, found.problem);
      entry = found.entry;
    }
    if (entry === null) return null;
    const cutsApart = shape.feature.role === 'open' && entry.fromEdge && endsAtEdge(shape, stock.plate, offsetMm);
    const bare = { shape, entry, slug: slugs[i]!, outMm: needs.outMm, cutsApart };
    const layout = { ...bare, lengths: featureLengths(bare, alone.has(shape)) };
    if (isShared) known.set(key, layout);
    return layout;
  };
  const sizes = drillableSizes(job, wire, depthMm);
  const isStated = (shape: Shape): boolean => stated[shape.feature.id] !== undefined;
  let placed = placeAll(shapes, isStated, (i, others) => layOut(i, sizes, others));
  const smaller = agreeOnSizes(
    placed.filter((l) => l !== null),
    sizes[0] ?? 0,
    (sizeMm) => !canDrill || drillFor(job.book, [sizes[0]!, sizeMm], depthMm) !== null,
  );
  if (smaller !== null) {
    const before = placed;
    placed = placeAll(shapes, isStated, (i, others) => {
      const layout = before[i]!;
      return layout === null ? null : layOut(i, [smaller(layout)], others);
    });
  }
  const layouts = placed.filter((l) => l !== null);
  const problems = placed.flatMap((l, i) => {
    if (l !== null) return [];
    return [unsuitable.get(i) ?? noHole(job, shapes[i]!, wire, needsOf(i, sizes, []))];
  });
  const holes = holeGroups(layouts);
  const used = holes.map((h) => h.sizeMm);
  const drill = canDrill && holes.length > 0 ? drillFor(job.book, used, depthMm) : null;
  if (canDrill && holes.length > 0 && drill === null && problems.length === 0) problems.push(noDrill(used));
  return {
    layouts,
    stock,
    totals: totalsOf(layouts, blocks),
    holes,
    drill,
    reach: reachOf(layouts),
    problems,
  };
}

/** Lays out openings first and all other shapes around their start holes, stated ones first; else in the order of `shapes`. */
function placeAll(
  shapes: readonly Shape[],
  isStated: (shape: Shape) => boolean,
  layOut: (index: number, others: readonly Hole[]) => ShapeLayout | null,
): (ShapeLayout | null)[] {
  const out: (ShapeLayout | null)[] = shapes.map(() => null);
  const others: Hole[] = [];
  const rankOf = (shape: Shape): number => {
    if (shape.feature.role === 'opening') return 0;
    return isStated(shape) ? 1 : 2;
  };
  for (const rank of [0, 1, 2]) {
    for (const [i, shape] of shapes.entries()) {
      if (rankOf(shape) !== rank) continue;
      const layout = layOut(i, others);
      out[i] = layout;
      if (layout !== null && !layout.entry.fromEdge) others.push(holeOf(layout));
    }
  }
  return out;
}

function holeOf({ entry }: ShapeLayout): Hole {
  return { at: entry.from, radiusMm: entry.diameterMm / 2 };
}

/** True when an open cut's last point lies within a kerf of the plate's edge or beyond it. */
function endsAtEdge(shape: Shape, plate: Box, offsetMm: number): boolean {
  const { segments } = shape.walk.contour;
  const { x, y } = segments[segments.length - 1]!.to;
  const kerf = 2 * offsetMm;
  return x <= plate.minX + kerf || x >= plate.maxX - kerf || y <= plate.minY + kerf || y >= plate.maxY - kerf;
}

/** Where the wire goes: around all contours and start holes, mm. */
function reachOf(layouts: readonly ShapeLayout[]): Box {
  const out = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  for (const { shape, entry } of layouts) {
    const { box } = shape;
    out.minX = Math.min(out.minX, box.minX, entry.from.x);
    out.minY = Math.min(out.minY, box.minY, entry.from.y);
    out.maxX = Math.max(out.maxX, box.maxX, entry.from.x);
    out.maxY = Math.max(out.maxY, box.maxY, entry.from.y);
  }
  return out;
}

/** Least material between a drilled hole and the edge of the plate or another hole, mm: the tube must not break out. */
export const HOLE_RIM_MM = 0.5;

/** The contour to be programmed: rounded as agreed where radii or stretches between inside corners are smaller than the wire needs. */
function shapeFor({ drawn, rounded }: DrawnShape, offsetMm: number): Shape {
  if (rounded === null) return drawn;
  const drawnMm = drawn.feature.minInsideRadiusMm;
  return (drawnMm !== null && drawnMm < offsetMm) || drawn.tightBlocks(offsetMm).length > 0 ? rounded : drawn;
}

function outMmFor(shape: Shape, offsetMm: number): number {
  const { narrowestMm } = shape.feature;
  const wanted = offsetMm + LEAD_OUT_MM;
  return narrowestMm === null ? wanted : Math.max(offsetMm, Math.min(wanted, narrowestMm / 2));
}

function totalsOf(layouts: readonly ShapeLayout[], blocks: readonly WorkBlock<Shape>[]): SetUpTotals {
  const blockOf = new Map(blocks.flatMap((b, k) => [...b.listed, ...b.rest].map((shape) => [shape, k])));
  let roughMm = 0;
  let skimMm = 0;
  let threadings = 0;
  let skimThreadings = 0;
  let pieces = 0;
  let holes = 0;
  const visits = new Set<string>();
  for (const layout of layouts) {
    const { lengths } = layout;
    roughMm += lengths.roughMm;
    skimMm += lengths.skimMm;
    threadings += lengths.threadings;
    skimThreadings += lengths.skimThreadings;
    if (!layout.entry.fromEdge) holes++;
    if (layout.cutsApart) {
      pieces++;
      visits.add(layout.shape.feature.id);
    }
    if (tabMmOf(layout) > 0) {
      pieces++;
      visits.add(`block ${blockOf.get(layout.shape)}`);
    }
  }
  return { roughMm, skimMm, threadings, skimThreadings, visits: visits.size, pieces, holes };
}

/** Outlines whose tab is cut without rethreading: the only ones of their block. */
function aloneOutlines(blocks: readonly WorkBlock<Shape>[]): Set<Shape> {
  const inBlocks = blocks.filter((b) => b.role === 'outline').map((b) => [...b.listed, ...b.rest]);
  return new Set(inBlocks.filter((b) => b.length === 1).flat());
}

/** Each size can be drilled, but no machine of the shop drills them all. */
function noDrill(sizesMm: readonly number[]): Problem {
  const what = `No drill of the shop makes start holes of ${sizesMm.join(', ')} mm in one set-up`;
  const fix = 'State one diameter for all start holes, or leave the diameters to the plan';
  return problem({ code: 'PLAN-HOLE-SIZES', severity: 'stop', what, fix, at: { field: 'overrides.startHoles' } });
}
