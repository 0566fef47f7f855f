import { type Problem, problem } from '@gapwright/base';
import { type Box, closestApproach, line, type Segment, segmentBox } from '@gapwright/geometry';
import type { ShopRules } from '@gapwright/process';
import type { KeepOut, WireRequest } from './plan.js';
import type { Shape } from './shape.js';
import type { Stock } from './start-holes.js';

/** The plate with its clamps, and what is to be said about them. */
export interface PlannedStock extends Stock {
  /** True when the clamps come from the shop's rule and their boxes already hold the clearance of the guides. */
  readonly hasRuleClamps: boolean;
  /** True when the work has no room for clamps by the rule and must be held in a fixture of its own. */
  readonly needsFixture: boolean;
  readonly problems: readonly Problem[];
}

/**
 * The plate: as stated, or the finished blank, or the drawing with a rim. Clamps: as stated, or one in the middle of
 * each of two opposite edges, the short ones if they fit there. Places kept out by the rule hold the clamp and the
 * clearance of the guides around it. Where no clamps fit, the work is held in a fixture nobody has described yet.
 */
export function planStock(
  request: WireRequest,
  blank: Box | null,
  drawing: Box,
  cut: readonly Shape[],
  guideMm: number,
  rules: ShopRules,
): PlannedStock {
  const stated = request.plate ?? blank;
  if (request.keepOuts !== undefined) {
    const plate = stated ?? withRim(drawing, rules.plateRimMm.value, rules.plateRimMm.value);
    return { plate, keepOuts: request.keepOuts, hasRuleClamps: false, needsFixture: false, problems: [] };
  }
  const reach = rules.clampDepthMm.value + guideMm;
  const isWide = drawing.maxX - drawing.minX >= drawing.maxY - drawing.minY;
  if (stated === null) {
    const rim = rules.plateRimMm.value;
    const clampRim = Math.max(rim, reach + rules.minRimMm.value);
    const plate = isWide ? withRim(drawing, clampRim, rim) : withRim(drawing, rim, clampRim);
    return {
      plate,
      keepOuts: clampsOn(plate, isWide, guideMm, rules),
      hasRuleClamps: true,
      needsFixture: false,
      problems: [],
    };
  }
  const wideFirst = stated.maxX - stated.minX >= stated.maxY - stated.minY;
  for (const onSides of [wideFirst, !wideFirst]) {
    const clamps = clampsOn(stated, onSides, guideMm, rules);
    if (clamps.every((c) => cut.every((shape) => touching(shape, c.box, rules.minRimMm.value) === null))) {
      return { plate: stated, keepOuts: clamps, hasRuleClamps: true, needsFixture: false, problems: [] };
    }
  }
  const none = request.plate === undefined ? blankInFixture(reach) : plateInFixture(reach);
  return { plate: stated, keepOuts: [], hasRuleClamps: true, needsFixture: true, problems: [none] };
}

/** Small finished blanks never have room for clamps: nothing is wrong, but somebody must know. */
function blankInFixture(reachMm: number): Problem {
  const what = `The finished blank has no ${reachMm.toFixed(0)} mm beside the cut for clamps and wire guides: it is held in a fixture, which must keep clear of the kerf and the guides`;
  const fix = 'State where the fixture is as keepOuts to have it checked';
  return problem({ code: 'WIRE-HELD-IN-FIXTURE', severity: 'info', what, fix, at: { field: 'keepOuts' } });
}

function plateInFixture(reachMm: number): Problem {
  const what = `No two opposite edges of the stated plate have ${reachMm.toFixed(0)} mm of room for a clamp and the wire guides`;
  const fix = 'State where clamps or fixture are as keepOuts, or take a larger plate';
  return problem({ code: 'WIRE-CLAMPS-NO-ROOM', severity: 'warn', what, fix, at: { field: 'keepOuts' } });
}

function withRim(box: Box, x: number, y: number): Box {
  return { minX: box.minX - x, minY: box.minY - y, maxX: box.maxX + x, maxY: box.maxY + y };
}

/** One clamp in the middle of the left and right edges (`onSides`) or of the lower and upper ones. */
function clampsOn(plate: Box, onSides: boolean, guideMm: number, rules: ShopRules): KeepOut[] {
  const depth = rules.clampDepthMm.value;
  const half = rules.clampWidthMm.value / 2 + guideMm;
  const x = (plate.minX + plate.maxX) / 2;
  const y = (plate.minY + plate.maxY) / 2;
  const label = 'clamp';
  if (onSides) {
    const rows = { minY: y - half, maxY: y + half };
    return [
      { id: 'K1', label, box: { minX: plate.minX - depth, maxX: plate.minX + depth + guideMm, ...rows } },
      { id: 'K2', label, box: { minX: plate.maxX - depth - guideMm, maxX: plate.maxX + depth, ...rows } },
    ];
  }
  const columns = { minX: x - half, maxX: x + half };
  return [
    { id: 'K1', label, box: { minY: plate.minY - depth, maxY: plate.minY + depth + guideMm, ...columns } },
    { id: 'K2', label, box: { minY: plate.maxY - depth - guideMm, maxY: plate.maxY + depth, ...columns } },
  ];
}

/** A segment of the shape that comes nearer to the box than `withinMm`; null when none does. */
function touching(shape: Shape, box: Box, withinMm: number): Segment | null {
  if (isApart(shape.box, box, withinMm)) return null;
  const a = { x: box.minX, y: box.minY };
  const b = { x: box.maxX, y: box.minY };
  const c = { x: box.maxX, y: box.maxY };
  const d = { x: box.minX, y: box.maxY };
  const edges = [line(a, b), line(b, c), line(c, d), line(d, a)];
  for (const s of shape.walk.contour.segments) {
    if (isApart(segmentBox(s), box, withinMm)) continue;
    const { x, y } = s.from;
    if (x >= box.minX && x <= box.maxX && y >= box.minY && y <= box.maxY) return s;
    if (edges.some((edge) => closestApproach(s, edge).distanceMm < withinMm)) return s;
  }
  return null;
}

function isApart(a: Box, b: Box, withinMm: number): boolean {
  return (
    a.minX - withinMm > b.maxX || a.maxX + withinMm < b.minX || a.minY - withinMm > b.maxY || a.maxY + withinMm < b.minY
  );
}

/** What is wrong with contours and plate, clamps and travel. `reachMm` is half a kerf beyond the contour. */
export function stockProblems(
  shapes: readonly Shape[],
  stock: PlannedStock,
  reachMm: number,
  guideMm: number,
): Problem[] {
  const out: Problem[] = [];
  const { plate } = stock;
  for (const shape of shapes) {
    const id = shape.feature.id;
    const { box } = shape;
    const isInside =
      box.minX >= plate.minX && box.maxX <= plate.maxX && box.minY >= plate.minY && box.maxY <= plate.maxY;
    if (!isInside && shape.feature.role !== 'open') {
      const what = `${id} reaches out of the plate`;
      const fix = 'Take a larger plate, or move the part on it';
      const at = { xMm: box.minX, yMm: box.minY, feature: id, field: 'plate' };
      out.push(problem({ code: 'WIRE-OUTSIDE-PLATE', severity: 'stop', what, fix, at }));
    }
    for (const keepOut of stock.keepOuts) {
      const hit = touching(shape, keepOut.box, reachMm);
      if (hit === null) continue;
      const what = `${id} runs into ${keepOut.label} ${keepOut.id} near (${hit.from.x.toFixed(2)}, ${hit.from.y.toFixed(2)})`;
      const fix = 'Move the clamp or the part';
      const at = { xMm: hit.from.x, yMm: hit.from.y, feature: id, field: 'keepOuts' };
      out.push(problem({ code: 'WIRE-KEEP-OUT', severity: 'stop', what, fix, at }));
    }
    if (stock.hasRuleClamps) continue;
    const near = stock.keepOuts.find((k) => touching(shape, k.box, guideMm) !== null);
    if (near !== undefined && touching(shape, near.box, reachMm) === null) {
      const what = `${id} comes nearer to ${near.label} ${near.id} than the ${guideMm} mm the guides need`;
      const at = { feature: id, field: 'keepOuts' };
      out.push(
        problem({ code: 'WIRE-GUIDES-NEAR', severity: 'warn', what, fix: 'Check that the guides clear it', at }),
      );
    }
  }
  return out;
}
