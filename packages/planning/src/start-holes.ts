import { type Box, distanceMm, type Point } from '@gapwright/geometry';
import type { EntryPlace } from './entry-places.js';
import type { KeepOut } from './plan.js';
import type { Shape } from './shape.js';

/** Where the paths of a closed contour begin and end, seen from the entry, mm. */
export interface PathEnds {
  /** Stretch before the entry that stays; 0 without a tab. */
  readonly tabMm: number;
  /** Cuts over the tab run this far past its ends. */
  readonly overlapMm: number;
  /** Skims all round run this far past the entry. */
  readonly closeMm: number;
}

/** What a start hole must respect for one wire at one height, mm. */
export interface HoleNeeds {
  /** Drilled sizes that take the wire and can be drilled this deep, preferred first, then smaller ones. */
  readonly sizesMm: readonly number[];
  /** Offset of the first pass at its largest. */
  readonly offsetMm: number;
  /** How far lead-outs that end in the waste reach. */
  readonly outMm: number;
  /** From the hole's edge to the rough path, by the shop's rule. */
  readonly clearMm: number;
  /** Tab and overlaps as the rules want them. */
  readonly ends: PathEnds;
  /** Least material between a hole and the plate's edge or another hole. */
  readonly rimMm: number;
  /** How far the guides must stay from clamps. */
  readonly guideMm: number;
  /** Holes that are placed already. */
  readonly others: readonly Hole[];
}

/** A drilled hole. */
export interface Hole {
  readonly at: Point;
  readonly radiusMm: number;
}

/** Where holes may be: the stock and the places nothing may enter. */
export interface Stock {
  readonly plate: Box;
  readonly keepOuts: readonly KeepOut[];
}

/** Where the wire of one feature comes in. */
export interface Entry {
  readonly place: EntryPlace;
  /** Centre of the start hole, or the point outside the plate. */
  readonly from: Point;
  readonly leadMm: number;
  readonly diameterMm: number;
  readonly fromEdge: boolean;
  /** True when the hole is nearer to the contour than the rule asks. */
  readonly isTight: boolean;
  /** Tab and overlaps, moved where a path would end in an inside corner. */
  readonly ends: PathEnds;
}

/** A drilled hole stands within this of its place, mm (starting value, common practice for small-hole drilling). */
export const DRILL_PLACE_MM = 0.1;
/**
 * Share of the rule's clearance at which a hole of the preferred size is still better than a smaller one that is hard to
 * thread (starting value, common practice).
 */
export const TIGHT_SHARE = 0.5;
/** A cut from the edge starts this far outside the plate, plus half the wire: common practice. */
export const EDGE_START_MM = 1;

/** Chooses the entry of one contour; null when no start hole fits, or no tab clear of inside corners. */
export function chooseEntry(shape: Shape, needs: HoleNeeds, stock: Stock): Entry | null {
  const first = bestEntry(shape.entries, shape, needs, stock);
  if (first !== null && !first.isTight) return first;
  const second = bestEntry(shape.furtherEntries(), shape, needs, stock);
  return second !== null && (first === null || !second.isTight) ? second : first;
}

function bestEntry(all: readonly EntryPlace[], shape: Shape, needs: HoleNeeds, stock: Stock): Entry | null {
  const smooth = all.filter((place) => hasSmoothStretch(place, needs) && hasRoomAtEnds(place, shape, needs));
  if (smooth.length > 0) {
    const entry = entryAmong(smooth, shape, needs, stock);
    if (entry !== null) return entry;
  }
  const ends = new Map<EntryPlace, PathEnds>();
  // A tab on one side is easier to dress than one over a corner.
  const isOnOneSide = (place: EntryPlace): boolean => place.smoothBeforeMm >= needs.ends.tabMm + CORNER_CLEAR_MM;
  const ordered = [...all].sort((a, b) => Number(isOnOneSide(b)) - Number(isOnOneSide(a)));
  for (const place of ordered) {
    const found = clearEnds(place, shape, needs);
    if (found !== null) ends.set(place, found);
  }
  const entry = ends.size === 0 ? null : entryAmong([...ends.keys()], shape, needs, stock);
  return entry === null ? null : { ...entry, ends: ends.get(entry.place)! };
}

/**
 * Steps in which an end is moved out of a corner, mm; how many times its own length it may grow, and what it may grow
 * anyway, mm: past a tooth and the gap beside it.
 */
const END_STEP_MM = 0.1;
const MOST_GROWTH = 3;
const FREE_GROWTH_MM = 4;

/**
 * Paths begin and end at least this far from a corner, mm: with rounded text the lead would else belong to the wrong side
 * of the corner, and cut it off.
 */
const CORNER_CLEAR_MM = 0.02;

/** Tab and overlaps grown until the wire has room at every place where a path begins or ends; null when that fails. */
export function clearEnds(place: EntryPlace, shape: Shape, needs: HoleNeeds): PathEnds | null {
  const { ends, outMm } = needs;
  const isClear = (mm: number): boolean =>
    shape.cornerDistanceMm(place.s + mm) >= CORNER_CLEAR_MM && shape.hasRoomMm(place.s + mm, outMm);
  /** The least length from `leastMm` on that ends where the wire has room. */
  const grown = (leastMm: number, endsClear: (mm: number) => boolean): number | null => {
    const most = Math.min(Math.max(MOST_GROWTH * leastMm, leastMm + FREE_GROWTH_MM), leastMm + shape.walk.lengthMm / 8);
    for (let mm = leastMm; mm <= most; mm += END_STEP_MM) if (endsClear(mm)) return mm;
    return null;
  };
  if (!isClear(0)) return null;
  const closeMm = grown(ends.closeMm, isClear);
  if (closeMm === null) return null;
  if (ends.tabMm === 0) return { ...ends, closeMm };
  const tabMm = grown(ends.tabMm, (mm) => isClear(-mm));
  if (tabMm === null) return null;
  const overlapMm = grown(ends.overlapMm, (mm) => isClear(-tabMm - mm) && isClear(mm));
  return overlapMm === null ? null : { tabMm, overlapMm, closeMm };
}

function entryAmong(places: readonly EntryPlace[], shape: Shape, needs: HoleNeeds, stock: Stock): Entry | null {
  for (const sizeMm of needs.sizesMm) {
    const byRule = sizeMm / 2 + needs.clearMm + needs.offsetMm;
    for (const place of places) {
      if (place.roomMm < byRule) continue;
      const entry = entryAt(place, byRule, sizeMm, false, needs.ends);
      if (isFree(entry.from, sizeMm / 2, needs, stock)) return entry;
    }
  }
  if (shape.feature.role !== 'opening' && shape.depth === 0) {
    const edge = fromEdge(places, needs, stock);
    if (edge !== null) return edge;
  }
  // Nothing meets the rule: the largest size that keeps a good part of it, else the smallest that is safe at all.
  const goodMm = Math.max(DRILL_PLACE_MM, TIGHT_SHARE * needs.clearMm);
  for (const [k, sizeMm] of needs.sizesMm.entries()) {
    const isLast = k === needs.sizesMm.length - 1;
    const entry = widestEntry(places, sizeMm, isLast ? DRILL_PLACE_MM : goodMm, needs, stock);
    if (entry !== null) return entry;
  }
  return null;
}

/** The widest place where a hole stays at least `clearMm` beyond the rough offset; null when there is none. */
function widestEntry(
  places: readonly EntryPlace[],
  sizeMm: number,
  clearMm: number,
  needs: HoleNeeds,
  stock: Stock,
): Entry | null {
  const byRule = sizeMm / 2 + needs.clearMm + needs.offsetMm;
  const least = sizeMm / 2 + clearMm + needs.offsetMm;
  let best: EntryPlace | undefined;
  for (const place of places) {
    if (place.roomMm < least || (best !== undefined && place.roomMm <= best.roomMm)) continue;
    if (isFree(along(place, Math.min(place.roomMm, byRule)), sizeMm / 2, needs, stock)) best = place;
  }
  return best === undefined ? null : entryAt(best, Math.min(best.roomMm, byRule), sizeMm, true, needs.ends);
}

export function hasSmoothStretch(place: EntryPlace, { ends, outMm }: HoleNeeds): boolean {
  const hasTab = ends.tabMm > 0;
  const behind = hasTab ? ends.tabMm + ends.overlapMm : 0;
  const ahead = hasTab ? Math.max(ends.overlapMm, ends.closeMm) : ends.closeMm;
  return (
    place.smoothBeforeMm - outMm * place.cornerBefore >= behind + CORNER_CLEAR_MM &&
    place.smoothAfterMm - outMm * place.cornerAfter >= ahead + CORNER_CLEAR_MM
  );
}

/** True when the leads at the ends of the tab and of its overlaps touch no other line. */
export function hasRoomAtEnds(place: EntryPlace, shape: Shape, { ends, outMm }: HoleNeeds): boolean {
  if (ends.tabMm === 0 || shape.feature.role === 'open') return true;
  const leads = [0, -ends.tabMm, -ends.tabMm - ends.overlapMm, ends.overlapMm];
  return leads.every((mm) => shape.hasRoomMm(place.s + mm, outMm));
}

export function along(place: EntryPlace, mm: number): Point {
  return { x: place.base.x + place.normal.x * mm, y: place.base.y + place.normal.y * mm };
}

function entryAt(place: EntryPlace, clearMm: number, diameterMm: number, isTight: boolean, ends: PathEnds): Entry {
  const from = along(place, clearMm);
  return { place, from, leadMm: distanceMm(from, place.at), diameterMm, fromEdge: false, isTight, ends };
}

/** Inside the plate with a rim around the hole, and away from clamps and other holes. */
export function isFree(at: Point, radiusMm: number, needs: HoleNeeds, stock: Stock): boolean {
  const { plate } = stock;
  const rim = radiusMm + needs.rimMm;
  if (at.x < plate.minX + rim || at.x > plate.maxX - rim) return false;
  if (at.y < plate.minY + rim || at.y > plate.maxY - rim) return false;
  if (needs.others.some((o) => distanceMm(at, o.at) < rim + o.radiusMm)) return false;
  return !isNearKeepOut(at, radiusMm + needs.guideMm, stock.keepOuts);
}

/** True when a point lies nearer than `mm` to any of the boxes. */
export function isNearKeepOut(at: Point, mm: number, keepOuts: readonly KeepOut[]): boolean {
  return keepOuts.some(({ box }) => {
    const dx = Math.max(box.minX - at.x, 0, at.x - box.maxX);
    const dy = Math.max(box.minY - at.y, 0, at.y - box.maxY);
    return dx * dx + dy * dy < mm * mm;
  });
}

/** The nearest place from which a straight line along the normal reaches the outside of the plate unhindered. */
function fromEdge(places: readonly EntryPlace[], needs: HoleNeeds, stock: Stock): Entry | null {
  let best: Entry | null = null;
  for (const place of places) {
    const toEdge = distanceToEdge(place, stock.plate);
    const lead = toEdge + EDGE_START_MM + needs.offsetMm;
    // Room is the radius of a disc; a straight slot of the wire's width needs no more than this.
    if (place.roomMm < lead / 2) continue;
    if (best !== null && lead >= best.leadMm) continue;
    const from = along(place, lead);
    if (isNearKeepOut(from, needs.guideMm, stock.keepOuts)) continue;
    if (isNearKeepOut(along(place, lead / 2), needs.guideMm, stock.keepOuts)) continue;
    best = {
      place,
      from,
      leadMm: distanceMm(from, place.at),
      diameterMm: 0,
      fromEdge: true,
      isTight: false,
      ends: needs.ends,
    };
  }
  return best;
}

/** From a contour point along its normal to the plate's edge, mm; 0 when the point lies outside already. */
function distanceToEdge({ base: at, normal }: EntryPlace, plate: Box): number {
  const x = normal.x > 0 ? (plate.maxX - at.x) / normal.x : normal.x < 0 ? (plate.minX - at.x) / normal.x : Infinity;
  const y = normal.y > 0 ? (plate.maxY - at.y) / normal.y : normal.y < 0 ? (plate.minY - at.y) / normal.y : Infinity;
  return Math.max(0, Math.min(x, y));
}
