import { type Problem, problem } from '@gapwright/base';
import { type Box, containsPoint, distanceMm, nearestPoint, type Point, type Segment } from '@gapwright/geometry';
import type { Wire } from '@gapwright/process';
import { placeAt } from './contour-walk.js';
import { type EntryPlace, placeTowards } from './entry-places.js';
import type { StartHolePlace } from './plan.js';
import type { Shape } from './shape.js';
import {
  along,
  chooseEntry,
  clearEnds,
  DRILL_PLACE_MM,
  EDGE_START_MM,
  type Entry,
  type HoleNeeds,
  hasRoomAtEnds,
  hasSmoothStretch,
  isFree,
  isNearKeepOut,
  type PathEnds,
  type Stock,
  TIGHT_SHARE,
} from './start-holes.js';

/** What a stated start hole is judged by. */
export interface HoleSetting {
  readonly needs: HoleNeeds;
  readonly stock: Stock;
  readonly wire: Wire;
  /** All drilled sizes that take the wire at this depth, mm. */
  readonly sizesMm: readonly number[];
}

/** Exactly one of the two is there. */
export type StatedEntry =
  | { readonly entry: Entry; readonly problem: null }
  | { readonly entry: null; readonly problem: Problem };

/** A place this near to one of the plan's own is that one, mm: rounding of numbers in files. */
const SAME_PLACE_MM = 1e-6;
/** A lead may come this much nearer to a line than the first offset, mm: a tenth of a micrometre, rounding of program text. */
const LEAD_SLACK_MM = 1e-4;
/** Steps along the contour in which a place for the lead is looked for, mm, and how many to either side. */
const PLACE_STEP_MM = 0.25;
const MOST_STEPS = 40;
/** A lead comes in at no less than 30° to the contour, so that compensation comes on without burning along the wall. */
const LEAST_LEAD_SINE = 0.5;

/** The entry of a contour through a start hole the planner placed, or why the hole is unsuitable and where it could go. */
export function statedEntry(shape: Shape, stated: StartHolePlace, setting: HoleSetting): StatedEntry {
  const found = tryPlace(shape, stated, setting);
  if ('place' in found) return { entry: found, problem: null };
  const { id } = shape.feature;
  const where = `(${stated.x.toFixed(3)}, ${stated.y.toFixed(3)})`;
  const name = stated.fromEdge === true ? 'starting place outside the plate' : 'start hole';
  const at = { xMm: stated.x, yMm: stated.y, feature: id, field: `overrides.startHoles.${id}` };
  const what = `The ${name} stated for ${id} at ${where} ${found.lacks}`;
  const fix = found.fix ?? wayOut(shape, stated, setting);
  return { entry: null, problem: problem({ code: found.code, severity: 'stop', what, fix, at }) };
}

/** What a place lacks; the message begins with the hole and goes on with `lacks`. */
interface Miss {
  readonly code: string;
  readonly lacks: string;
  /** What else to do than move the hole. */
  readonly fix?: string;
}

function tryPlace(shape: Shape, stated: StartHolePlace, setting: HoleSetting): Entry | Miss {
  const { needs } = setting;
  const at = { x: stated.x, y: stated.y };
  const wrongSideMm = intoPart(shape, at);
  if (wrongSideMm !== null) {
    return { code: 'PLAN-HOLE-IN-PART', lacks: `lies ${wrongSideMm.toFixed(3)} mm on the part's side of the contour` };
  }
  if (stated.fromEdge === true) return tryEdge(shape, at, setting);
  const sizes = stated.diameterMm === undefined ? needs.sizesMm : [stated.diameterMm];
  if (stated.diameterMm !== undefined && !setting.sizesMm.includes(stated.diameterMm)) {
    const known = setting.sizesMm.length === 0 ? 'none' : [...setting.sizesMm].reverse().join(', ');
    const lacks = `has a diameter of ${stated.diameterMm} mm, which is not among those that take the ${setting.wire.diameterMm.toFixed(2)} mm wire and can be drilled this deep`;
    return { code: 'PLAN-HOLE-SIZE', lacks, fix: `Choose one of ${known} mm, or leave the diameter to the plan` };
  }
  const clearMm = shape.around.nearest(at).distanceMm;
  const size = sizeFor(at, clearMm, sizes, setting);
  if (typeof size !== 'number') return size;
  const lead = leadFor(shape, at, clearMm, setting, (p, t) => t <= p.roomMm + SAME_PLACE_MM);
  if (lead === null) return noWay(setting);
  const byRule = size / 2 + needs.clearMm + needs.offsetMm;
  return {
    ...lead,
    from: at,
    leadMm: distanceMm(at, lead.place.at),
    diameterMm: size,
    fromEdge: false,
    isTight: clearMm < byRule - SAME_PLACE_MM,
  };
}

function noWay({ wire }: HoleSetting): Miss {
  const lacks = `has no straight way to a place on the contour where the ${wire.diameterMm.toFixed(2)} mm wire can come in and go out clear of corners and other lines`;
  return { code: 'PLAN-HOLE-NO-WAY', lacks };
}

/** The first size that keeps the rule's distance; else the largest that keeps a good part of it; else the last if safe. */
function sizeFor(at: Point, clearMm: number, sizesMm: readonly number[], { needs, stock }: HoleSetting): number | Miss {
  const { offsetMm } = needs;
  const goodMm = Math.max(DRILL_PLACE_MM, TIGHT_SHARE * needs.clearMm);
  const last = sizesMm.at(-1);
  if (last === undefined)
    return { code: 'PLAN-HOLE-SIZE', lacks: 'cannot be drilled: no size takes the wire this deep' };
  const fits = (sizeMm: number, airMm: number): boolean =>
    clearMm >= sizeMm / 2 + airMm + offsetMm - SAME_PLACE_MM && isFree(at, sizeMm / 2, needs, stock);
  const size =
    sizesMm.find((s) => fits(s, needs.clearMm)) ?? sizesMm.find((s) => fits(s, s === last ? DRILL_PLACE_MM : goodMm));
  if (size !== undefined) return size;
  const leastMm = last / 2 + DRILL_PLACE_MM + offsetMm;
  if (clearMm < leastMm) {
    const lacks = `is too near to the contour: with ${last.toFixed(2)} mm its centre must be ${leastMm.toFixed(3)} mm from every line, it is ${clearMm.toFixed(3)} mm (${(leastMm - clearMm).toFixed(3)} mm short)`;
    return { code: 'PLAN-HOLE-NO-ROOM', lacks };
  }
  return notFree(at, last / 2, needs, stock);
}

/** Which of plate, clamps and other holes is in the way, and by how much. */
function notFree(at: Point, radiusMm: number, needs: HoleNeeds, { plate, keepOuts }: Stock): Miss {
  const rimMm = radiusMm + needs.rimMm;
  const insideMm = insideBy(at, plate);
  if (insideMm < rimMm) {
    const lacks =
      insideMm < 0
        ? `lies ${(-insideMm).toFixed(3)} mm outside the plate`
        : `is ${insideMm.toFixed(3)} mm from the plate's edge and needs ${rimMm.toFixed(3)} mm (${(rimMm - insideMm).toFixed(3)} mm short)`;
    return { code: 'PLAN-HOLE-OUTSIDE-PLATE', lacks };
  }
  const guideMm = radiusMm + needs.guideMm;
  const clamp = keepOuts.find((k) => isNearKeepOut(at, guideMm, [k]));
  if (clamp !== undefined) {
    const short = guideMm - Math.max(0, -insideBy(at, clamp.box));
    return {
      code: 'PLAN-HOLE-ON-CLAMP',
      lacks: `is ${short.toFixed(3)} mm too near to ${clamp.label} ${clamp.id}`,
    };
  }
  const other = needs.others.reduce((most, o) => Math.max(most, rimMm + o.radiusMm - distanceMm(at, o.at)), 0);
  return { code: 'PLAN-HOLE-MEETS-HOLE', lacks: `is ${other.toFixed(3)} mm too near to another start hole` };
}

/** How far a point lies inside a box, mm; negative: about how far outside. */
function insideBy(at: Point, box: Box): number {
  const dx = Math.max(box.minX - at.x, at.x - box.maxX);
  const dy = Math.max(box.minY - at.y, at.y - box.maxY);
  return dx > 0 && dy > 0 ? -Math.sqrt(dx * dx + dy * dy) : -Math.max(dx, dy);
}

function tryEdge(shape: Shape, at: Point, setting: HoleSetting): Entry | Miss {
  const { needs, stock, wire } = setting;
  if (shape.feature.role === 'opening' || shape.depth > 0) {
    return { code: 'PLAN-HOLE-NOT-FROM-EDGE', lacks: 'cannot serve: the cut lies inside the material' };
  }
  const outsideMm = -insideBy(at, stock.plate);
  const leastMm = wire.diameterMm / 2;
  if (outsideMm < leastMm) {
    const lacks =
      outsideMm < 0
        ? `lies ${(-outsideMm).toFixed(3)} mm inside the plate`
        : `is ${outsideMm.toFixed(3)} mm outside the plate and needs ${leastMm.toFixed(3)} mm for the wire`;
    return { code: 'PLAN-HOLE-NOT-FROM-EDGE', lacks };
  }
  const clearMm = shape.around.nearest(at).distanceMm;
  const lead = leadFor(shape, at, clearMm, setting, (p, t) => t <= 2 * p.roomMm + SAME_PLACE_MM);
  if (lead === null) return noWay(setting);
  const middle = { x: (at.x + lead.place.at.x) / 2, y: (at.y + lead.place.at.y) / 2 };
  const clamp = stock.keepOuts.find((k) => [at, middle].some((p) => isNearKeepOut(p, needs.guideMm, [k])));
  if (clamp !== undefined) {
    return { code: 'PLAN-HOLE-ON-CLAMP', lacks: `leads too near past ${clamp.label} ${clamp.id}` };
  }
  const leadMm = distanceMm(at, lead.place.at);
  return { ...lead, from: at, leadMm, diameterMm: 0, fromEdge: true, isTight: false };
}

interface Lead {
  readonly place: EntryPlace;
  readonly ends: PathEnds;
}

/**
 * Where the wire meets the contour coming from a point: at one of the plan's own places when the point lies straight
 * before it with room, else near the nearest place on the contour from which lead and tab are clear.
 */
function leadFor(
  shape: Shape,
  from: Point,
  clearMm: number,
  { needs }: HoleSetting,
  isBefore: (place: EntryPlace, alongMm: number) => boolean,
): Lead | null {
  const own = [...shape.entries, ...shape.furtherEntries()];
  const before = own
    .map((place) => ({ place, mm: distanceMm(place.base, from) }))
    .filter(({ place, mm }) => isBefore(place, mm) && distanceMm(along(place, mm), from) <= SAME_PLACE_MM);
  const leastMm = before.reduce((least, b) => Math.min(least, b.mm), Number.POSITIVE_INFINITY);
  before.sort((a, b) => Number(a.mm > leastMm + 2 * SAME_PLACE_MM) - Number(b.mm > leastMm + 2 * SAME_PLACE_MM));
  for (const { place } of before) {
    const ends = endsAt(place, shape, needs);
    if (ends !== null) return { place, ends };
  }
  const nearest = nearestOn(shape, from);
  const arcLengths = shape.feature.role === 'open' ? [0] : [...steps(nearest.s), ...own.map((p) => p.s)];
  for (const s of arcLengths) {
    const place = placeTowards(shape.walk, s, from, clearMm);
    if (!isLeadClear(shape, place, from, needs.offsetMm)) continue;
    const ends = endsAt(place, shape, needs);
    if (ends !== null) return { place, ends };
  }
  return null;
}

/** Arc lengths from one on to both sides, nearest first. */
function steps(s: number): number[] {
  const out = [s];
  for (let k = 1; k <= MOST_STEPS; k++) out.push(s + k * PLACE_STEP_MM, s - k * PLACE_STEP_MM);
  return out;
}

function endsAt(place: EntryPlace, shape: Shape, needs: HoleNeeds): PathEnds | null {
  if (hasSmoothStretch(place, needs) && hasRoomAtEnds(place, shape, needs)) return needs.ends;
  return clearEnds(place, shape, needs);
}

/** True when the wire's centre can go straight from the point to beside the contour without burning into any line. */
function isLeadClear(shape: Shape, place: EntryPlace, from: Point, offsetMm: number): boolean {
  const { at, tangent } = placeAt(shape.walk, place.s);
  const sine = place.normal.x * tangent.y - place.normal.y * tangent.x;
  if (sine < LEAST_LEAD_SINE) return false;
  const beside = { x: at.x + tangent.y * offsetMm, y: at.y - tangent.x * offsetMm };
  return !shape.around.isNear(from, beside, offsetMm - LEAD_SLACK_MM);
}

/** How far a point lies on the part's side of the contour, mm; null when it lies on the waste's side. */
function intoPart({ feature, walk }: Shape, at: Point): number | null {
  const near = nearestOn({ walk }, at);
  if (feature.role === 'open') {
    const { at: start, tangent } = placeAt(walk, 0);
    const left = tangent.x * (at.y - start.y) - tangent.y * (at.x - start.x);
    return left > 0 ? left : null;
  }
  return containsPoint(walk.contour, at) === (feature.role === 'opening') ? null : near.distanceMm;
}

function nearestOn({ walk }: Pick<Shape, 'walk'>, p: Point): { readonly s: number; readonly distanceMm: number } {
  let best = { s: 0, distanceMm: Number.POSITIVE_INFINITY };
  for (const [i, segment] of walk.contour.segments.entries()) {
    const near = nearestPoint(segment, p);
    if (near.distanceMm >= best.distanceMm) continue;
    best = { s: walk.starts[i]! + lengthTo(segment, near.point), distanceMm: near.distanceMm };
  }
  return best;
}

/** Length of a segment from its start to a point on it, mm. */
function lengthTo(s: Segment, p: Point): number {
  if (s.kind === 'line') return distanceMm(s.from, p);
  const ax = s.from.x - s.centre.x;
  const ay = s.from.y - s.centre.y;
  const bx = p.x - s.centre.x;
  const by = p.y - s.centre.y;
  const turn = Math.atan2(ax * by - ay * bx, ax * bx + ay * by) * Math.sign(s.sweepRad);
  // Rounding may put the start a hair before itself.
  const isBefore = turn < (Math.abs(s.sweepRad) - 2 * Math.PI) / 2;
  return s.radiusMm * Math.max(0, isBefore ? turn + 2 * Math.PI : turn);
}

/** Decimals of a suggested place: what is suggested is looked at again as it is written. */
const SUGGESTED_DIGITS = 1000;

/** Where the hole could go: the suitable place nearest to the stated one, or the plan's own. */
function wayOut(shape: Shape, stated: StartHolePlace, setting: HoleSetting): string {
  const { needs, stock } = setting;
  const isEdge = stated.fromEdge === true;
  const sizes = stated.diameterMm === undefined ? needs.sizesMm : [stated.diameterMm];
  const nearest = nearestOn(shape, stated).s;
  const places = [
    ...shape.entries,
    ...shape.furtherEntries(),
    ...(shape.feature.role === 'open' ? [] : steps(nearest).map((s) => squareOn(shape, s))),
  ];
  const points: Point[] = [];
  for (const place of places) {
    if (isEdge) {
      for (const mm of edgeWays(place, stock.plate, needs.offsetMm)) points.push(along(place, mm));
      continue;
    }
    for (const sizeMm of sizes) {
      points.push(along(place, sizeMm / 2 + needs.clearMm + needs.offsetMm));
      points.push(along(place, sizeMm / 2 + DRILL_PLACE_MM + needs.offsetMm + 1 / SUGGESTED_DIGITS));
    }
  }
  const own = isEdge ? null : chooseEntry(shape, needs, stock);
  if (own !== null) points.push(own.from);
  const ordered = points
    .map((p) => ({
      x: Math.round(p.x * SUGGESTED_DIGITS) / SUGGESTED_DIGITS,
      y: Math.round(p.y * SUGGESTED_DIGITS) / SUGGESTED_DIGITS,
    }))
    .sort((a, b) => distanceMm(a, stated) - distanceMm(b, stated));
  for (const { x, y } of ordered) {
    if (!('place' in tryPlace(shape, { ...stated, x, y }, setting))) continue;
    return `Move it to (${x.toFixed(3)}, ${y.toFixed(3)}), or leave it to the plan`;
  }
  return isEdge
    ? 'Leave the start of this cut to the plan'
    : 'No suitable place was found nearby: choose another diameter or a thinner wire, or leave the hole to the plan';
}

/** Lengths of leads that reach outside the plate along a place's normal, mm. */
function edgeWays(place: EntryPlace, plate: Box, offsetMm: number): number[] {
  const { base, normal } = place;
  const x = normal.x > 0 ? (plate.maxX - base.x) / normal.x : (plate.minX - base.x) / normal.x;
  const y = normal.y > 0 ? (plate.maxY - base.y) / normal.y : (plate.minY - base.y) / normal.y;
  const way = Math.min(normal.x === 0 ? Infinity : x, normal.y === 0 ? Infinity : y);
  return Number.isFinite(way) ? [Math.max(0, way) + EDGE_START_MM + offsetMm] : [];
}

/** The place at an arc length with the way out square to the contour. */
function squareOn(shape: Shape, s: number): EntryPlace {
  const { at, tangent } = placeAt(shape.walk, s);
  return placeTowards(shape.walk, s, { x: at.x + tangent.y, y: at.y - tangent.x }, 0);
}
