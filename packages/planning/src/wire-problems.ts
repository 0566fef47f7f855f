import { type Problem, problem } from '@gapwright/base';
import { type Point, pointAt } from '@gapwright/geometry';
import { accessLimits, blockOffset, FIT_SLACK_MM, surfaceNeeds, type WireSearch } from './candidates.js';
import { largestPassableOffset, type TightBlock } from './compensation.js';
import type { Job } from './job.js';
import { type Ladder, missed } from './pass-ladder.js';
import type { Shape } from './shape.js';

/** More places of one kind than this say nothing new. */
const MOST_PLACES = 6;

/** Why no candidate with this wire meets the needs; empty when one does. `all` helps to name a wire that would. */
export function wireProblems(job: Job, search: WireSearch, all: readonly WireSearch[]): Problem[] {
  if (search.best !== null) return [];
  if (!search.hasMachine)
    return distinct(search.machineProblems.length > 0 ? search.machineProblems : [noMachine(search)]);
  const good = allowedLadders(job, search);
  if (good.length === 0) return surfaceProblems(job, search.ladders);
  const out: Problem[] = [];
  const { setUp } = search;
  if (setUp !== null) out.push(...setUp.problems);
  const ladder = good.reduce((a, b) => (b.firstOffsetMm < a.firstOffsetMm ? b : a));
  out.push(...tightPlaces(job, search, ladder, all));
  const limits = setUp === null ? null : accessLimits(job, setUp);
  if (out.length === 0 && limits !== null) {
    const leaves = good.map((l) => search.cornerRadiiMm[search.ladders.indexOf(l)]!);
    const least = Math.min(...leaves);
    if (least > limits.cornerMm + FIT_SLACK_MM) out.push(sharpTooSharp(job, search, least));
  }
  return out.length > 0 ? out : [noCombination(search)];
}

/** The least offset with which the wire would meet the surface needs, mm; Infinity when it cannot. */
function leastOffset(job: Job, search: WireSearch, offsetOf: OffsetOf): number {
  let least = Number.POSITIVE_INFINITY;
  for (const l of allowedLadders(job, search)) least = Math.min(least, offsetOf(job, search, l));
  return least;
}

/** Ladders whose surface is taken: those that meet the needs, or all when the planner stated one. */
function allowedLadders(job: Job, search: WireSearch): readonly Ladder[] {
  if (!job.mustMeetNeeds) return search.ladders;
  const needs = surfaceNeeds(job);
  return search.ladders.filter((l) => missed(l, needs).length === 0);
}

/** What of a ladder must pass the tight places, mm. */
type OffsetOf = (job: Job, search: WireSearch, ladder: Ladder) => number;

const firstOffset: OffsetOf = (_job, _search, ladder) => ladder.firstOffsetMm;

/** Inside arcs and necks too tight for the ladder, corner by corner. */
function tightPlaces(job: Job, search: WireSearch, ladder: Ladder, all: readonly WireSearch[]): Problem[] {
  const offset = ladder.firstOffsetMm;
  const agreed = job.request.agreedCornerRadiusMm ?? 0;
  const d = search.wire.diameterMm.toFixed(2);
  const out: Problem[] = [];
  let more = 0;
  const push = (p: Problem): void => {
    if (out.length < MOST_PLACES) out.push(p);
    else more++;
  };
  for (const { drawn, rounded } of job.shapes) {
    const { feature } = drawn;
    for (const s of feature.contour.segments) {
      if (s.kind !== 'arc' || s.sweepRad >= 0 || s.radiusMm >= offset - FIT_SLACK_MM) continue;
      if (rounded !== null && agreed >= offset - FIT_SLACK_MM) continue;
      const at = pointAt(s, 0.5);
      const what = `Inside corner at ${placeOf(at)} has radius ${s.radiusMm.toFixed(2)} mm; the ${d} mm wire leaves ${roundUp(offset)} mm`;
      const fix = `${thinnerWire(job, s.radiusMm, all)}ask for R${roundUp(offset)}`;
      push(tight('WIRE-RADIUS-TOO-SMALL', what, capital(fix), at, feature.id));
    }
    const isRounded = rounded !== null && agreed >= offset - FIT_SLACK_MM;
    for (const p of shortBlocks(job, isRounded ? rounded : drawn, search, ladder, all)) push(p);
    const { narrowestMm, narrowestAt } = feature;
    if (narrowestMm === null || narrowestAt === null || narrowestMm / 2 >= offset - FIT_SLACK_MM) continue;
    const what = `${feature.id} is ${narrowestMm.toFixed(2)} mm wide at ${placeOf(narrowestAt)}; the ${d} mm wire needs ${roundUp(2 * offset)} mm`;
    const fix = `${thinnerWire(job, narrowestMm / 2, all)}ask for a width of ${roundUp(2 * offset)} mm`;
    push(tight('WIRE-TOO-NARROW', what, capital(fix), narrowestAt, feature.id));
  }
  if (more > 0) {
    const what = `${more} more places like these`;
    out.push(problem({ code: 'WIRE-TIGHT-PLACES-MORE', severity: 'stop', what }));
  }
  return out;
}

/** Stretches between inside corners too short for the ladder, one problem for each run of them. */
function shortBlocks(
  job: Job,
  { feature, walk, tightBlocks }: Shape,
  search: WireSearch,
  ladder: Ladder,
  all: readonly WireSearch[],
): Problem[] {
  const found = tightBlocks(ladderBlockOffset(job, search, ladder));
  if (found.length === 0) return [];
  const passesMm = largestPassableOffset(walk.contour, ladderBlockOffset(job, search, ladder));
  const wire = thinnerWire(job, passesMm, all, ladderBlockOffset);
  const isAgreed = (job.request.agreedCornerRadiusMm ?? 0) >= ladder.firstOffsetMm - FIT_SLACK_MM;
  const fix = isAgreed
    ? `${wire}change the contour there`
    : `${wire}agree on a corner radius of R${roundUp(ladder.firstOffsetMm)}`;
  return runsOf(found).map(({ at, lengthMm, neededMm }) => {
    const length = lengthMm >= 0.01 ? lengthMm.toFixed(2) : lengthMm.toPrecision(1);
    const d = search.wire.diameterMm.toFixed(2);
    const lacks =
      neededMm > lengthMm && neededMm < MOST_NEEDED_MM ? `needs ${roundUp(neededMm)} mm` : 'finds no way through';
    const what = `${feature.id} has only ${length} mm beside an inside corner at ${placeOf(at)}; the ${d} mm wire ${lacks} there`;
    return tight('WIRE-CORNERS-TOO-CLOSE', what, capital(fix), at, feature.id);
  });
}

/** Corners that turn almost back need lengths nobody wants to read, mm. */
const MOST_NEEDED_MM = 1000;
/** Tight blocks with no more than this many others between them are one place. */
const SAME_PLACE_BLOCKS = 2;

/** The shortest block of each run of neighbours. */
function runsOf(blocks: readonly TightBlock[]): TightBlock[] {
  const out: TightBlock[] = [];
  let last = Number.NEGATIVE_INFINITY;
  for (const block of blocks) {
    if (block.segment - last > SAME_PLACE_BLOCKS) out.push(block);
    else if (block.lengthMm < out[out.length - 1]!.lengthMm) out[out.length - 1] = block;
    last = block.segment;
  }
  return out;
}

/** The offset at which one ladder of a wire must leave every block, mm. */
function ladderBlockOffset(job: Job, search: WireSearch, ladder: Ladder): number {
  return blockOffset(job, ladder, search.cornerRadiiMm[search.ladders.indexOf(ladder)]!);
}

function tight(code: string, what: string, fix: string, at: Point, feature: string): Problem {
  return problem({ code, severity: 'stop', what, fix, at: { xMm: at.x, yMm: at.y, feature } });
}

/** `use the 0.10 mm wire, or ` with the thickest wire that would pass, or nothing when none would. */
function thinnerWire(job: Job, radiusMm: number, all: readonly WireSearch[], offsetOf: OffsetOf = firstOffset): string {
  let best: WireSearch | undefined;
  for (const search of all) {
    if (leastOffset(job, search, offsetOf) > radiusMm + FIT_SLACK_MM) continue;
    if (best === undefined || search.wire.diameterMm > best.wire.diameterMm) best = search;
  }
  return best === undefined ? '' : `use the ${best.wire.diameterMm.toFixed(2)} mm wire, or `;
}

/** What even the finest ladder misses. */
function surfaceProblems(job: Job, ladders: readonly Ladder[]): Problem[] {
  const { request, book } = job;
  const needs = surfaceNeeds(job);
  const out: Problem[] = [];
  const stop = (code: string, what: string, fix: string, field: string): void => {
    out.push(problem({ code, severity: 'stop', what, fix, at: { field } }));
  };
  const raUm = Math.min(...ladders.map((l) => l.raUm));
  const accuracyMm = Math.min(...ladders.map((l) => l.accuracyMm));
  const recastUm = Math.min(...ladders.map((l) => l.recastUm));
  if (raUm > needs.raUm) {
    const what = `Ra ${request.raUm} µm is asked; the finest level reaches about ${raUm.toFixed(2)} µm here`;
    stop('WIRE-RA-TOO-FINE', what, `Ask for Ra ${roundUp(raUm)} µm, or plan polishing`, 'raUm');
  }
  if (accuracyMm > needs.accuracyMm) {
    const reach = accuracyMm / book.rules.toleranceShare.value;
    const what = `A profile tolerance of ±${request.toleranceMm} mm is asked; at ${request.heightMm} mm height about ±${reach.toFixed(4)} mm can be held`;
    stop('WIRE-TOLERANCE-TOO-FINE', what, `Ask for ±${(Math.ceil(reach * 1000) / 1000).toFixed(3)} mm`, 'toleranceMm');
  }
  if (recastUm > needs.recastUm) {
    const what = `At most ${request.recastMaxUm} µm of recast is allowed; the finest level leaves about ${recastUm.toFixed(1)} µm`;
    stop('WIRE-RECAST', what, 'Plan to take the recast off after burning, or ask for more', 'recastMaxUm');
  }
  if (out.length > 0) return out;
  const what = `No sequence of passes meets Ra ${request.raUm} µm, ±${request.toleranceMm} mm and the recast limit at once`;
  stop('WIRE-SURFACE', what, 'Relax one of them', 'raUm');
  return out;
}

function sharpTooSharp(job: Job, search: WireSearch, leastMm: number): Problem {
  const feature = job.shapes.find((s) => s.drawn.feature.sharpInsideCorners.length > 0)!.drawn.feature;
  const at = feature.sharpInsideCorners[0]!;
  const d = search.wire.diameterMm.toFixed(2);
  const what = `Sharp inside corner at ${placeOf(at)} may keep R${job.request.agreedCornerRadiusMm}; the ${d} mm wire leaves ${roundUp(leastMm)} mm`;
  const fix = `Ask for R${roundUp(leastMm)}, or use a thinner wire`;
  return problem({
    code: 'WIRE-CORNER-TOO-SHARP',
    severity: 'stop',
    what,
    fix,
    at: { xMm: at.x, yMm: at.y, feature: feature.id },
  });
}

function noMachine(search: WireSearch): Problem {
  const what = `No machine of the shop runs wire ${search.wire.id}`;
  return problem({
    code: 'WIRE-NO-MACHINE',
    severity: 'stop',
    what,
    fix: 'Add the wire to a machine in the shop book',
  });
}

function noCombination(search: WireSearch): Problem {
  const what = `No ladder with wire ${search.wire.id} meets surface and inside radii at once`;
  const fix = 'Relax Ra, tolerance or the inside radii, or use a thinner wire';
  return problem({ code: 'WIRE-NO-LADDER', severity: 'stop', what, fix });
}

function distinct(problems: readonly Problem[]): Problem[] {
  return problems.filter((p, i) => problems.findIndex((q) => q.message === p.message) === i);
}

export function placeOf(at: Point): string {
  return `(${at.x.toFixed(2)}, ${at.y.toFixed(2)})`;
}

/** Two decimals, rounded up: what is asked of the customer must suffice. */
export function roundUp(mm: number): string {
  return (Math.ceil(mm * 100 - 1e-6) / 100).toFixed(2);
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
