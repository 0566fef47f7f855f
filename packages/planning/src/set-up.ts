import { type Figure, given, type Problem, problem, STATED_FOR_JOB } from '@gapwright/base';
import type { Box } from '@gapwright/geometry';
import { type DrillMachine, estimateDrilledHole, type Wire } from '@gapwright/process';
import type { Job } from './job.js';
import { type ShapeLayout, tabMmOf } from './layout.js';
import { featureLengths } from './path-lengths.js';
import type { WireRequest } from './plan.js';
import type { Shape } from './shape.js';
import type { DrawnShape } from './shapes.js';
import { chooseEntry, DRILL_PLACE_MM, type HoleNeeds } from './start-holes.js';
import { groupOf } from './steps.js';
import { type PlannedStock, planStock } from './stock.js';

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
  /** Drilled start holes, all of one size. */
  readonly holes: number;
}

/** All features laid out on the plate for one wire, stack and clearance of guides. */
export interface SetUp {
  readonly layouts: readonly ShapeLayout[];
  readonly stock: PlannedStock;
  readonly totals: SetUpTotals;
  /** Drilled size, mm; 0 when nothing is drilled. */
  readonly holeMm: number;
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

/** What one wire's set-ups of one stack share: openings do not feel where the clamps are when the plate is ours to choose. */
export type KnownOpenings = Map<Shape, ShapeLayout>;

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
  const drilled = drilledSize(job, wire, request.heightMm * stack);
  const slugs = job.slugsOf(stack);
  const alone = aloneOutlines(shapes);
  const problems: Problem[] = [];
  const layouts: ShapeLayout[] = [];
  for (const [i, shape] of shapes.entries()) {
    const canShare = isOurPlate && shape.feature.role === 'opening';
    const shared = canShare ? known.get(shape) : undefined;
    if (shared !== undefined) {
      layouts.push(shared);
      continue;
    }
    const slug = slugs[i]!;
    const tabMm = slug?.tabMm ?? 0;
    const needs: HoleNeeds = {
      sizesMm: drilled === null ? [] : [drilled.sizeMm],
      offsetMm,
      outMm: outMmFor(shape, offsetMm),
      clearMm: rules.holeToContourMm.value,
      ends: { tabMm, overlapMm: rules.tabOverlapMm.value, closeMm: rules.entryOverlapMm.value },
      rimMm: HOLE_RIM_MM,
      guideMm: stock.hasRuleClamps ? 0 : guideMm,
    };
    const entry = chooseEntry(shape, needs, stock);
    if (entry === null) {
      problems.push(noHole(shape, wire, needs));
      continue;
    }
    const cutsApart = shape.feature.role === 'open' && entry.fromEdge && endsAtEdge(shape, stock.plate, offsetMm);
    const bare = { shape, entry, slug, outMm: needs.outMm, cutsApart };
    const layout = { ...bare, lengths: featureLengths(bare, alone.has(shape)) };
    if (canShare) known.set(shape, layout);
    layouts.push(layout);
  }
  return {
    layouts,
    stock,
    totals: totalsOf(layouts),
    holeMm: drilled?.sizeMm ?? 0,
    drill: drilled?.machine ?? null,
    reach: reachOf(layouts),
    problems,
  };
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

/** Least material between a drilled hole and the edge of the plate, mm: the tube must not break out. */
const HOLE_RIM_MM = 0.5;

/** The contour to be programmed: rounded as agreed where the drawn radius is smaller than the wire needs. */
function shapeFor(shape: DrawnShape, offsetMm: number): Shape {
  const drawnMm = shape.drawn.feature.minInsideRadiusMm;
  return shape.rounded !== null && drawnMm !== null && drawnMm < offsetMm ? shape.rounded : shape.drawn;
}

function outMmFor(shape: Shape, offsetMm: number): number {
  const { narrowestMm } = shape.feature;
  const wanted = offsetMm + LEAD_OUT_MM;
  return narrowestMm === null ? wanted : Math.max(offsetMm, Math.min(wanted, narrowestMm / 2));
}

function totalsOf(layouts: readonly ShapeLayout[]): SetUpTotals {
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
      visits.add(`${layout.shape.feature.role} ${groupOf(layout.shape)}`);
    }
  }
  return { roughMm, skimMm, threadings, skimThreadings, visits: visits.size, pieces, holes };
}

/** Outlines whose tab is cut without rethreading: the only ones of their group. */
function aloneOutlines(shapes: readonly Shape[]): Set<Shape> {
  const only = new Map<number, Shape | null>();
  for (const shape of shapes) {
    if (shape.feature.role !== 'outline') continue;
    const group = groupOf(shape);
    only.set(group, only.has(group) ? null : shape);
  }
  return new Set([...only.values()].filter((s) => s !== null));
}

/** The smallest size that takes the wire and that some drill makes this deep; on the cheapest such machine. */
function drilledSize(job: Job, wire: Wire, depthMm: number): { sizeMm: number; machine: DrillMachine | null } | null {
  const { book, material } = job;
  const least = wire.diameterMm + book.rules.holeOverWireMm.value;
  const canDrill = material.drillFeedMmPerMin !== null;
  for (const sizeMm of book.startHoleSizesMm) {
    if (sizeMm < least - SIZE_MM) continue;
    if (!canDrill) return { sizeMm, machine: null };
    let best: DrillMachine | null = null;
    for (const machine of book.drillMachines) {
      if (!machine.holeSizesMm.includes(sizeMm) || depthMm > machine.maxDepthMm) continue;
      if (depthMm > book.rules.drillMaxDepthRatio.value * sizeMm) continue;
      if (best === null || machine.ratePerH.value < best.ratePerH.value) best = machine;
    }
    if (best !== null) return { sizeMm, machine: best };
  }
  return null;
}

/** Hole sizes are compared as written, so that 0.25 + 0.3 admits a 0.55 hole, mm. */
const SIZE_MM = 1e-9;

/** Minutes for one start hole on the drill, or null when nothing is drilled. */
export function perHoleMin(job: Job, setUp: SetUp, stack: number): Figure | null {
  if (setUp.drill === null || setUp.totals.holes === 0) return null;
  const { book, material } = job;
  const depthMm = job.request.heightMm * stack;
  const query = { book, material, machine: setUp.drill, diameterMm: setUp.holeMm, depthMm };
  return estimateDrilledHole(query).value?.perHoleMin ?? null;
}

function noHole(shape: Shape, wire: Wire, needs: HoleNeeds): Problem {
  const { feature } = shape;
  const size = needs.sizesMm[0];
  const first = shape.entries[0]?.at;
  const at = { feature: feature.id, ...(first === undefined ? {} : { xMm: first.x, yMm: first.y }) };
  if (size === undefined) {
    const what = `${feature.id}: no drilled size takes the ${wire.diameterMm.toFixed(2)} mm wire at this height`;
    const fix = 'Stack fewer plates, use a thinner wire, or add a drill that reaches this depth';
    return problem({ code: 'WIRE-NO-HOLE-SIZE', severity: 'stop', what, fix, at });
  }
  const room = [...shape.entries, ...shape.furtherEntries()].reduce(
    (most, e) => Math.max(most, Math.min(e.roomMm, 1e6)),
    0,
  );
  const need = size / 2 + DRILL_PLACE_MM + needs.offsetMm;
  if (room >= need) {
    const what = `${feature.id} has no place for a start hole in the plate from which a tab of ${needs.ends.tabMm.toFixed(1)} mm can be left clear of inside corners with the ${wire.diameterMm.toFixed(2)} mm wire`;
    const fix = 'Use a thinner wire, a larger plate, or move the clamps';
    return problem({ code: 'WIRE-NO-ENTRY', severity: 'stop', what, fix, at });
  }
  const what = `${feature.id} has no room for a start hole of ${size.toFixed(2)} mm for the ${wire.diameterMm.toFixed(2)} mm wire: its centre must be ${need.toFixed(2)} mm from every line, the widest place gives ${room.toFixed(2)} mm`;
  return problem({
    code: 'WIRE-START-HOLE',
    severity: 'stop',
    what,
    fix: 'Use a thinner wire, or move clamps and plate edges away',
    at,
  });
}
