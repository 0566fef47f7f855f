import { type Problem, problem } from '@gapwright/base';
import { containsPoint, pointAt } from '@gapwright/geometry';
import type { ShopBook } from '@gapwright/process';
import type { NestedFeature } from './features.js';
import type { SlugHandling, WireOverrides } from './plan.js';

const HANDLINGS: readonly SlugHandling[] = ['falls free', 'tab', 'tab and support'];
/** A tab is at most this share of the contour: beyond it the piece hangs as on a hinge, and either end could be the tab. */
const MOST_TAB_SHARE = 0.25;
/** More names than this are not read. */
const MOST_NAMED = 8;

/** Stop problems of decisions that make no sense with this drawing and shop book, whatever the wire. */
export function overrideProblems(
  overrides: WireOverrides,
  features: readonly NestedFeature[],
  book: ShopBook,
): Problem[] {
  const unknown = unknownFeatures(overrides, features);
  if (unknown !== null) return [unknown];
  return [
    ...ladderProblems(overrides, book),
    ...holeNumbers(overrides),
    ...slugProblems(overrides, features),
    ...orderProblems(overrides.order ?? [], features),
  ];
}

function stop(code: string, field: string, what: string, fix: string, feature?: string): Problem {
  const at = { field: `overrides.${field}`, ...(feature === undefined ? {} : { feature }) };
  return problem({ code, severity: 'stop', what, fix, at });
}

/** One problem for all names that no feature has. */
function unknownFeatures(overrides: WireOverrides, features: readonly NestedFeature[]): Problem | null {
  const known = new Set(features.map((f) => f.feature.id));
  const { startHoles = {}, slugHandling = {}, tabMm = {}, order = [] } = overrides;
  const named = [...Object.keys(startHoles), ...Object.keys(slugHandling), ...Object.keys(tabMm), ...order];
  const unknown = [...new Set(named)].filter((id) => !known.has(id));
  if (unknown.length === 0) return null;
  const first = features[0]?.feature.id;
  const last = features.at(-1)?.feature.id;
  const has = first === last ? `only ${first}` : `${first} to ${last}`;
  const what = `What is overruled names ${listed(unknown)}, which the drawing does not have; it has ${has}`;
  const fix = 'Take these entries out, or name features of this drawing';
  return stop('PLAN-OVERRULED-UNKNOWN', '', what, fix);
}

function listed(names: readonly string[]): string {
  const more = names.length - MOST_NAMED;
  return more <= 0 ? names.join(', ') : `${names.slice(0, MOST_NAMED).join(', ')} and ${more} more`;
}

function ladderProblems({ passLevels }: WireOverrides, book: ShopBook): Problem[] {
  if (passLevels === undefined) return [];
  const known = book.wireLevels.map((l) => l.level);
  const rough = known[0];
  const field = 'passLevels';
  const code = 'PLAN-PASSES-SENSELESS';
  const said = `The stated passes ${passLevels.length === 0 ? '(none)' : passLevels.join(', ')}`;
  const missing = passLevels.filter((level) => !known.includes(level));
  if (missing.length > 0) {
    const what = `${said} name level ${missing.join(', ')}, which the shop book does not have`;
    return [stop(code, field, what, `Choose from ${known.join(', ')}`)];
  }
  if (passLevels[0] !== rough) {
    const what = `${said} do not begin with the rough level ${rough}`;
    return [stop(code, field, what, `Begin with ${rough}: only the rough level goes through the full work`)];
  }
  const places = passLevels.map((level) => known.indexOf(level));
  if (places.some((place, i) => i > 0 && place <= places[i - 1]!)) {
    const inOrder = known.filter((level) => passLevels.includes(level));
    const what = `${said} do not go from coarse to fine, each level once`;
    return [stop(code, field, what, `State them as ${inOrder.join(', ')}`)];
  }
  return [];
}

function holeNumbers({ startHoles = {} }: WireOverrides): Problem[] {
  const out: Problem[] = [];
  for (const [id, { x, y, diameterMm, fromEdge }] of Object.entries(startHoles)) {
    const field = `startHoles.${id}`;
    if (!Number.isFinite(x) || !Number.isFinite(y)) {
      out.push(stop('PLAN-BAD-NUMBER', field, `The start hole of ${id} is at (${x}, ${y})`, 'Give two numbers', id));
    } else if (diameterMm !== undefined && !(Number.isFinite(diameterMm) && diameterMm > 0)) {
      const what = `The start hole of ${id} has a diameter of ${diameterMm} mm`;
      out.push(stop('PLAN-BAD-NUMBER', field, what, 'Give a diameter above 0, or leave it out', id));
    } else if (fromEdge === true && diameterMm !== undefined) {
      const what = `${id} is to start from the plate's edge and to have a hole of ${diameterMm} mm`;
      out.push(stop('PLAN-HOLE-OR-EDGE', field, what, 'State a hole or a start from the edge', id));
    }
  }
  return out;
}

function slugProblems({ slugHandling = {}, tabMm = {} }: WireOverrides, features: readonly NestedFeature[]): Problem[] {
  const out: Problem[] = [];
  const byId = new Map(features.map((f) => [f.feature.id, f.feature]));
  for (const [id, handling] of Object.entries(slugHandling)) {
    const field = `slugHandling.${id}`;
    if (!HANDLINGS.includes(handling)) {
      const what = `"${String(handling)}" is not a way to handle the piece of ${id}`;
      out.push(stop('PLAN-SLUG-HANDLING', field, what, `Choose one of ${HANDLINGS.join(', ')}`, id));
    } else if (byId.get(id)?.role === 'open') {
      const what = `${id} is an open cut, which frees no piece of its own`;
      out.push(stop('PLAN-SLUG-HANDLING', field, what, 'Take this entry out', id));
    }
  }
  for (const [id, mm] of Object.entries(tabMm)) {
    const feature = byId.get(id);
    if (feature === undefined) continue;
    const field = `tabMm.${id}`;
    const mostMm = feature.lengthMm * MOST_TAB_SHARE;
    if (!Number.isFinite(mm) || mm <= 0) {
      out.push(stop('PLAN-BAD-NUMBER', field, `The tab of ${id} is ${mm} mm long`, 'Give a length above 0', id));
    } else if (feature.role === 'open') {
      out.push(stop('PLAN-TAB', field, `${id} is an open cut, which needs no tab`, 'Take this entry out', id));
    } else if (slugHandling[id] === 'falls free') {
      const what = `${id} is stated to fall free and to keep a tab of ${mm} mm`;
      out.push(stop('PLAN-TAB', field, what, 'Take out one of the two', id));
    } else if (mm > mostMm) {
      const what = `The tab stated for ${id} is ${mm} mm long; a quarter of its contour is ${mostMm.toFixed(2)} mm`;
      out.push(stop('PLAN-TAB', field, what, `State at most ${(Math.floor(mostMm * 100) / 100).toFixed(2)} mm`, id));
    }
  }
  return out;
}

function orderProblems(order: readonly string[], features: readonly NestedFeature[]): Problem[] {
  const twice = order.filter((id, i) => order.indexOf(id) !== i);
  if (twice.length > 0) {
    const what = `The stated order names ${listed([...new Set(twice)])} more than once`;
    return [stop('PLAN-ORDER-TWICE', 'order', what, 'Name each feature once')];
  }
  if (order.length === 0) return [];
  const around = enclosing(features);
  const place = new Map(order.map((id, i) => [id, i]));
  const out: Problem[] = [];
  for (const outer of order) {
    const later = features
      .map((f) => f.feature.id)
      .filter((id) => isWithin(id, outer, around) && (place.get(id) ?? order.length) > place.get(outer)!);
    if (later.length === 0) continue;
    const piece = features.find((f) => f.feature.id === outer)?.feature.role === 'outline' ? 'part' : 'slug';
    const what = `The stated order frees the ${piece} of ${outer} before ${listed(later)} in it ${later.length === 1 ? 'is' : 'are'} cut`;
    out.push(stop('PLAN-ORDER-FREES-EARLY', 'order', what, `Name ${listed(later)} before ${outer}`, outer));
  }
  return out;
}

/** For every feature the nearest cut contour around it. */
function enclosing(features: readonly NestedFeature[]): Map<string, string | null> {
  const out = new Map<string, string | null>();
  for (const { feature, within } of features) {
    if (feature.role !== 'open') {
      out.set(feature.id, within);
      continue;
    }
    const middle = feature.contour.segments[Math.floor(feature.contour.segments.length / 2)]!;
    const at = pointAt(middle, 0.5);
    let nearest: NestedFeature | null = null;
    for (const f of features) {
      if (f.feature.role === 'open' || (nearest !== null && f.depth <= nearest.depth)) continue;
      if (containsPoint(f.feature.contour, at)) nearest = f;
    }
    out.set(feature.id, nearest?.feature.id ?? null);
  }
  return out;
}

function isWithin(id: string, outer: string, around: ReadonlyMap<string, string | null>): boolean {
  for (let at = around.get(id) ?? null; at !== null; at = around.get(at) ?? null) if (at === outer) return true;
  return false;
}
