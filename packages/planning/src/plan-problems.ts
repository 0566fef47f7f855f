import { type Figure, type Problem, problem, sumOf } from '@gapwright/base';
import { distanceMm } from '@gapwright/geometry';
import { spoolsUsed, type Wire } from '@gapwright/process';
import { type Batch, type Candidate, surfaceNeeds } from './candidates.js';
import type { Job } from './job.js';
import { cornerRadiusMm } from './operations.js';
import { missedNeeds, overruledPieces } from './override-warnings.js';
import { accuracyLeft, missed } from './pass-ladder.js';
import type { RunFigures } from './run-cost.js';
import { HOLE_RIM_MM, type SetUp } from './set-up.js';
import { stockProblems } from './stock.js';
import { findWebs, webProblems } from './webs.js';
import type { Chosen } from './wire-choice.js';
import { placeOf, roundUp } from './wire-problems.js';

/** What the planner must know about the chosen plan. Stop problems among these forbid it. */
export function planProblems(job: Job, { candidate, batches }: Chosen): Problem[] {
  const out = cornerProblems(job, candidate);
  const { machine, wire } = candidate;
  for (const { batch, run } of batches) {
    const { setUp, ladder } = batch;
    const shapes = setUp.layouts.map((l) => l.shape);
    const kerfMm = 2 * ladder.firstOffsetMm;
    const found = [
      ...batch.warnings,
      ...setUp.stock.problems,
      ...stockProblems(shapes, setUp.stock, kerfMm, machine.guideClearanceMm),
      ...webProblems(findWebs(shapes, WEB_SEARCH_MM), ladder.firstOffsetMm, kerfMm),
      ...roundedCorners(job, batch),
      ...holeProblems(batch),
      ...smallSlugs(job, batch),
      ...stackProblems(job, batch),
      ...overruledPieces(job, batch),
      ...spoolProblems(run, wire),
    ];
    // What was said of the first height need not be said again of the other.
    const said = new Set(out.map(keyOf));
    out.push(...found.filter((p) => !said.has(keyOf(p))));
    const where = batches.length > 1 ? ` in stacks of ${batch.stack}` : '';
    out.push(...missedNeeds(job, batch, where), ...surfaceDoubts(job, batch, where));
  }
  out.push(...spareProblems(job, candidate));
  return out;
}

/** The same kind of problem at the same place. */
function keyOf({ code, at }: Problem): string {
  return `${code} ${at?.feature ?? ''} ${at?.xMm ?? ''} ${at?.yMm ?? ''}`;
}

/** Features farther apart than this never disturb each other, mm. */
const WEB_SEARCH_MM = 1;

/** More names than this are not read. */
const MOST_NAMED = 6;

/** Sharp inside corners: what the wire leaves there is proposed, or has been agreed. */
function cornerProblems(job: Job, candidate: Candidate): Problem[] {
  const out: Problem[] = [];
  const agreed = job.request.agreedCornerRadiusMm;
  const sharp = job.shapes.flatMap(({ drawn }) =>
    drawn.feature.sharpInsideCorners.map((at) => ({ at, feature: drawn.feature.id })),
  );
  const first = sharp[0];
  if (first !== undefined && agreed === undefined) {
    const radius = roundUp(cornerRadiusMm(job, candidate));
    const d = candidate.wire.diameterMm.toFixed(2);
    const count = sharp.length === 1 ? 'A sharp inside corner' : `${sharp.length} sharp inside corners, the first`;
    const what = `${count} at ${placeOf(first.at)}: the ${d} mm wire leaves R${radius}`;
    const fix = `Agree R${radius} with the customer, or use a thinner wire`;
    const at = { xMm: first.at.x, yMm: first.at.y, feature: first.feature };
    out.push(problem({ code: 'WIRE-SHARP-CORNER', severity: 'warn', what, fix, at }));
  }
  return out;
}

function roundedCorners(job: Job, { setUp }: Batch): Problem[] {
  const out: Problem[] = [];
  const agreed = job.request.agreedCornerRadiusMm;
  for (const { shape } of setUp.layouts) {
    if (shape.walk.contour === shape.feature.contour) continue;
    const what = `${shape.feature.id} is programmed with its inside corners rounded to the agreed R${agreed}`;
    out.push(problem({ code: 'WIRE-CORNERS-ROUNDED', severity: 'info', what, at: { feature: shape.feature.id } }));
  }
  return out;
}

function holeProblems({ setUp }: Batch): Problem[] {
  const out: Problem[] = [];
  const tight = setUp.layouts.filter((l) => l.entry.isTight);
  const first = tight[0];
  if (first !== undefined) {
    const names =
      tight.length <= MOST_NAMED ? tight.map((l) => l.shape.feature.id).join(', ') : `${tight.length} features`;
    const leftMm = Math.min(
      ...tight.map(({ entry }) => Math.min(entry.place.roomMm, entry.leadMm) - entry.diameterMm / 2),
    );
    const what = `Start holes nearer to the contour than the rule asks, for want of room: ${names}; the nearest leaves ${leftMm.toFixed(2)} mm to the finished line`;
    const fix = 'Drill them with care; a hole off its place may touch the finished surface';
    const at = { xMm: first.entry.from.x, yMm: first.entry.from.y, feature: first.shape.feature.id };
    out.push(problem({ code: 'WIRE-HOLE-NEAR', severity: 'info', what, fix, at }));
  }
  out.push(...thinHoleWebs(setUp));
  if (setUp.drill === null && setUp.totals.holes > 0) {
    const what = 'The shop book has no drilling figures for this material; start holes are not planned here';
    const fix = 'Have them made elsewhere, or add the figures';
    out.push(problem({ code: 'DRILL-NO-FIGURES', severity: 'warn', what, fix }));
  }
  return out;
}

/** Neighbouring start holes with so little between them that the tube may break through. */
function thinHoleWebs({ layouts }: SetUp): Problem[] {
  const holes = layouts.filter((l) => !l.entry.fromEdge).sort((a, b) => a.entry.from.x - b.entry.from.x);
  const widest = holes.reduce((most, l) => Math.max(most, l.entry.diameterMm), 0);
  for (const [i, a] of holes.entries()) {
    for (const b of holes.slice(i + 1)) {
      if (b.entry.from.x - a.entry.from.x > widest + HOLE_RIM_MM) break;
      const webMm = distanceMm(a.entry.from, b.entry.from) - (a.entry.diameterMm + b.entry.diameterMm) / 2;
      if (webMm >= HOLE_RIM_MM) continue;
      const [one, other] = [a.shape.feature.id, b.shape.feature.id];
      const what = `The start holes of ${one} and ${other} leave only ${Math.max(0, webMm).toFixed(2)} mm between them`;
      const fix = 'Drill one of them elsewhere, or cut both features from one hole';
      const at = { xMm: a.entry.from.x, yMm: a.entry.from.y, feature: one };
      return [problem({ code: 'DRILL-HOLES-MEET', severity: 'warn', what, fix, at })];
    }
  }
  return [];
}

/** Slugs that fall free and are so narrow that they may jam between wire and wall. */
function smallSlugs(job: Job, { setUp }: Batch): Problem[] {
  const least = job.book.rules.noCoreSizeMm.value;
  const small = setUp.layouts.filter(({ shape, slug }) => {
    const { box } = shape;
    return slug?.handling === 'falls free' && Math.min(box.maxX - box.minX, box.maxY - box.minY) < least;
  });
  const first = small[0];
  if (first === undefined) return [];
  const count = small.length === 1 ? `The slug of ${first.shape.feature.id} is` : `${small.length} slugs are`;
  const what = `${count} narrower than ${least} mm and may jam the wire when falling free`;
  const fix = 'Watch the first ones, or burn them whole';
  const at = { feature: first.shape.feature.id };
  return [problem({ code: 'WIRE-SLUG-SMALL', severity: 'info', what, fix, at })];
}

/** Says when the expected surface is met, but a less lucky burn would miss it; `where` tells heights of stack apart. */
function surfaceDoubts(job: Job, { ladder, estimates }: Batch, where: string): Problem[] {
  const needs = surfaceNeeds(job);
  const out: Problem[] = [];
  const info = (code: string, what: string): void => {
    out.push(problem({ code, severity: 'info', what, fix: 'Burn a trial, or plan one skim more' }));
  };
  const last = estimates[ladder.levels[ladder.levels.length - 1]!]!;
  // What is missed for certain is told apart.
  const isMissed = new Set(missed(ladder, needs));
  if (!isMissed.has('ra') && last.raUm.high > needs.raUm) {
    info(
      'WIRE-RA-DOUBT',
      `Ra ${job.request.raUm} µm is expected to be met${where} (${span(last.raUm)}), but one burn in ten or more may miss it`,
    );
  }
  const accuracy = ladder.levels
    .map((k) => estimates[k]!)
    .reduce<Figure | null>(
      (left, e) => (left === null ? e.profileAccuracyMm : accuracyLeft(e.profileAccuracyMm, left, e.stockMm)),
      null,
    )!;
  if (!isMissed.has('tolerance') && accuracy.high > job.request.toleranceMm) {
    info(
      'WIRE-TOLERANCE-DOUBT',
      `±${job.request.toleranceMm} mm is expected to be met${where} (${span(accuracy)}), but one burn in ten or more may miss it`,
    );
  }
  if (!isMissed.has('recast') && last.recastUm.high > needs.recastUm) {
    info(
      'WIRE-RECAST-DOUBT',
      `The recast limit of ${job.request.recastMaxUm} µm is expected to be met${where} (${span(last.recastUm)}), but only a cut-up tells`,
    );
  }
  return out;
}

function span(f: Figure): string {
  const unit = f.unit === 'um' ? 'µm' : f.unit;
  return `${Number(f.low.toPrecision(2))} to ${Number(f.high.toPrecision(2))} ${unit}`;
}

function stackProblems(job: Job, { stack }: Batch): Problem[] {
  const { rules } = job.book;
  const heightMm = stack * job.request.heightMm;
  if (stack === 1 || (stack <= rules.maxStack.value && heightMm <= rules.maxStackHeightMm.value)) return [];
  const what = `A stack of ${stack} plates, ${heightMm} mm high, is more than the shop's rule of ${rules.maxStack.value} plates and ${rules.maxStackHeightMm.value} mm`;
  return [
    problem({ code: 'WIRE-STACK-RULE', severity: 'warn', what, fix: 'Stack fewer plates', at: { field: 'stack' } }),
  ];
}

/** Stacks that hold more plates than the quantity needs. */
function spareProblems(job: Job, { batches }: Candidate): Problem[] {
  const spare = batches.reduce((sum, b) => sum + b.runs * b.stack, 0) - job.plates;
  if (spare === 0) return [];
  const what = `The stacks hold ${spare} plate${spare === 1 ? '' : 's'} more than the quantity needs`;
  const fix = 'Keep them as spares, or state a smaller stack';
  return [problem({ code: 'WIRE-STACK-SPARE', severity: 'info', what, fix, at: { field: 'stack' } })];
}

function spoolProblems(run: RunFigures, wire: Wire): Problem[] {
  const spools = spoolsUsed(sumOf({ 'wire of one run': run.useM }), wire).value;
  if (spools <= 1) return [];
  const what = `One run uses ${spools.toFixed(1)} spools of ${wire.id}; the wire ends while nobody may be there`;
  return [
    problem({ code: 'WIRE-SPOOL-ENDS', severity: 'info', what, fix: 'Plan a spool change, or use a larger spool' }),
  ];
}
