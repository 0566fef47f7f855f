import type { Problem } from '@gapwright/base';
import { estimateWirePass, type Wire, type WireMachine, type WirePassEstimate } from '@gapwright/process';
import { drillingMin } from './hole-sizes.js';
import type { Job } from './job.js';
import { machineProblems } from './machine-fit.js';
import { allLadders, type Ladder, type LevelNumbers, missed, type SurfaceNeeds } from './pass-ladder.js';
import { firstSetUpCost, runCostNumber } from './run-cost.js';
import { type KnownOpenings, planSetUp, type SetUp } from './set-up.js';
import { cheapestSplit, type PricedStack, splitCost, stacksFor } from './stacks.js';

/** The cheapest way to burn one height of stack. */
interface StackPlan extends PricedStack {
  readonly ladder: Ladder;
  /** One estimate per level of the shop book, at this stack's height. */
  readonly estimates: readonly WirePassEstimate[];
  readonly warnings: readonly Problem[];
  readonly setUp: SetUp;
}

/** Runs of one height of stack: they share ladder, start holes and program. */
export interface Batch extends StackPlan {
  readonly runs: number;
}

/** One complete way to burn the job: wire, machine and batches, with its cost for the whole quantity. */
export interface Candidate {
  readonly wire: Wire;
  readonly machine: WireMachine;
  /** Larger stack first; two when the rest of the quantity gets a stack of its own. */
  readonly batches: readonly Batch[];
  readonly cost: number;
}

/** What was found for one wire: the cheapest candidate, or what is needed to say why there is none. */
export interface WireSearch {
  readonly wire: Wire;
  readonly best: Candidate | null;
  /** Problems with the machines that run this wire; decisive only when no machine fits. */
  readonly machineProblems: readonly Problem[];
  /** True when at least one machine can take the work with this wire. */
  readonly hasMachine: boolean;
  /** All ladders of the machine and stack that come nearest to fitting; empty when no machine fits. */
  readonly ladders: readonly Ladder[];
  /** d/2 + gap of each ladder's last pass, in the same order, mm. */
  readonly cornerRadiiMm: readonly number[];
  readonly setUp: SetUp | null;
}

/** The tightest places of the drawing for one set-up, mm; Infinity where nothing limits. */
export interface AccessLimits {
  readonly radiusMm: number;
  readonly halfWidthMm: number;
  /** Radius sharp corners may keep. */
  readonly cornerMm: number;
}

export function surfaceNeeds(job: Job): SurfaceNeeds {
  const { request, book } = job;
  return {
    raUm: request.raUm,
    accuracyMm: request.toleranceMm * book.rules.toleranceShare.value,
    recastUm: request.recastMaxUm ?? Number.POSITIVE_INFINITY,
  };
}

/** Limits of access for the contours as they will be programmed. */
export function accessLimits(job: Job, setUp: Pick<SetUp, 'layouts'>): AccessLimits {
  const agreed = job.request.agreedCornerRadiusMm;
  let radiusMm = Number.POSITIVE_INFINITY;
  let halfWidthMm = Number.POSITIVE_INFINITY;
  let hasSharp = false;
  for (const { shape } of setUp.layouts) {
    const { feature } = shape;
    const isRounded = shape.walk.contour !== feature.contour;
    if (isRounded) radiusMm = Math.min(radiusMm, agreed ?? 0);
    else if (feature.minInsideRadiusMm !== null) radiusMm = Math.min(radiusMm, feature.minInsideRadiusMm);
    if (feature.narrowestMm !== null) halfWidthMm = Math.min(halfWidthMm, feature.narrowestMm / 2);
    if (feature.sharpInsideCorners.length > 0) hasSharp = true;
  }
  return { radiusMm, halfWidthMm, cornerMm: hasSharp && agreed !== undefined ? agreed : Number.POSITIVE_INFINITY };
}

/** Rounding of lengths measured on the drawing must not decide whether a wire fits, mm. */
export const FIT_SLACK_MM = 1e-6;

/**
 * Tries every machine, one or two heights of stack and every ladder with one wire and keeps the cheapest that meets all
 * needs. Whether a candidate is allowed depends on the needs, what it costs does not: so relaxing a need can only make
 * the best one cheaper.
 */
export function searchWire(job: Job, wire: Wire, machines: readonly WireMachine[]): WireSearch {
  const problems: Problem[] = [];
  const setUps = setUpCache(job, wire);
  let best = null as Candidate | null;
  let hasMachine = false;
  let nearest: Pick<WireSearch, 'ladders' | 'cornerRadiiMm' | 'setUp'> = {
    ladders: [],
    cornerRadiiMm: [],
    setUp: null,
  };
  // With settled stacks the one that fails is told.
  let isFailure = false;
  // Gap and stock depend on wire and material only, so the largest offset of the wire is the same on every machine.
  let offsetMm: number | null = null;
  for (const machine of machines) {
    if (!machine.wireIds.includes(wire.id)) continue;
    const stacks = stacksFor(job, machine);
    if (stacks.length === 0) problems.push(...machineProblems(job, machine, null, job.request.stack ?? 1));
    const trials: StackTrial[] = [];
    for (const stack of stacks) {
      const estimator = levelEstimator(job, wire, machine, stack);
      offsetMm ??= largestOffset(job, wire, estimator);
      const rough = estimator.estimate(0);
      if (offsetMm === null || rough === null) {
        problems.push(...estimator.problems);
        continue;
      }
      const setUp = setUps.get(stack, machine.guideClearanceMm, offsetMm);
      const unfit = machineProblems(job, machine, setUp, stack);
      problems.push(...unfit);
      if (unfit.length > 0) continue;
      const drilling = drillingMin(job, setUp, stack)?.value ?? 0;
      const price = (feeds: readonly number[]): number =>
        runCostNumber({ job, setUp, machine, wire, stack }, feeds, drilling);
      trials.push({ stack, estimator, setUp, price, runCost: price([rough.feedMmPerMin.value]) });
    }
    // The first pass alone is a bound from below: no ladders of this machine can be cheaper.
    const first = firstSetUpCost(job, machine);
    const bound = cheapestSplit(job, trials);
    if (best !== null && (bound === null || first + splitCost(bound) >= best.cost)) continue;
    const options: StackPlan[] = [];
    for (const trial of trials) {
      const tried = tryLadders(job, wire, trial);
      if (tried === null) {
        problems.push(...trial.estimator.problems);
        continue;
      }
      hasMachine = true;
      const { ladders, cornerRadiiMm, cheapest } = tried;
      const hasFailed = job.settled !== null && cheapest === null && !isFailure;
      if (hasFailed) isFailure = true;
      if (nearest.setUp === null || hasFailed) nearest = { ladders, cornerRadiiMm, setUp: trial.setUp };
      if (cheapest !== null) options.push(cheapest);
    }
    const shares = cheapestSplit(job, options);
    if (shares === null) continue;
    const cost = first + splitCost(shares);
    if (best !== null && cost >= best.cost) continue;
    best = { wire, machine, batches: shares.map(({ option, runs }) => ({ ...option, runs })), cost };
  }
  return { wire, best, machineProblems: problems, hasMachine, ...nearest };
}

/** One height of stack on one machine, before the ladders are tried; `runCost` is its bound from below. */
interface StackTrial extends PricedStack {
  readonly estimator: LevelEstimator;
  readonly setUp: SetUp;
  price(feeds: readonly number[]): number;
}

/** What became of all ladders at one height of stack. */
interface TriedLadders extends Pick<WireSearch, 'ladders' | 'cornerRadiiMm'> {
  /** Null when no ladder meets all needs, or the set-up itself is impossible. */
  readonly cheapest: StackPlan | null;
}

/** Tries every ladder (or the stated one) at one height of stack; null when a level is refused there. */
function tryLadders(job: Job, wire: Wire, { stack, estimator, setUp, price }: StackTrial): TriedLadders | null {
  const estimates = job.book.wireLevels.map((_, k) => estimator.estimate(k)).filter((e) => e !== null);
  if (estimates.length < job.book.wireLevels.length) return null;
  const levels = estimates.map(levelNumbers);
  const ladders = laddersToTry(job, levels, wire, stack);
  const cornerRadiiMm = ladders.map((l) => wire.diameterMm / 2 + levels[l.levels[l.levels.length - 1]!]!.gapMm);
  if (setUp.problems.length > 0) return { ladders, cornerRadiiMm, cheapest: null };
  const needs = surfaceNeeds(job);
  const limits = accessLimits(job, setUp);
  let cheapest: StackPlan | null = null;
  for (const [i, ladder] of ladders.entries()) {
    if ((job.mustMeetNeeds && missed(ladder, needs).length > 0) || !hasAccess(ladder, cornerRadiiMm[i]!, limits))
      continue;
    const runCost = price(ladder.levels.map((k) => levels[k]!.feedMmPerMin));
    if (cheapest !== null && runCost >= cheapest.runCost) continue;
    if (!everyBlockSurvives(setUp, blockOffset(job, ladder, cornerRadiiMm[i]!))) continue;
    cheapest = { stack, runCost, ladder, estimates, warnings: estimator.problems, setUp };
  }
  return { ladders, cornerRadiiMm, cheapest };
}

/** All ladders, or the stated or settled one. */
function laddersToTry(job: Job, levels: readonly LevelNumbers[], wire: Wire, stack: number): Ladder[] {
  const all = allLadders(levels, wire.diameterMm);
  const stated = job.overrides.passLevels?.map((level) => job.book.wireLevels.findIndex((l) => l.level === level));
  const only = stated ?? job.settled?.find((b) => b.stack === stack)?.levels ?? null;
  return only === null ? all : all.filter((l) => l.levels.join() === only.join());
}

/** True when the wire's first pass fits every inside radius and slot, and its last leaves no more than agreed in corners. */
function hasAccess(ladder: Ladder, cornerRadiusMm: number, limits: AccessLimits): boolean {
  return (
    ladder.firstOffsetMm <= limits.radiusMm + FIT_SLACK_MM &&
    ladder.firstOffsetMm <= limits.halfWidthMm + FIT_SLACK_MM &&
    cornerRadiusMm <= limits.cornerMm + FIT_SLACK_MM
  );
}

/**
 * The offset at which no block may be lost, mm: that of the first pass, or the radius proposed for sharp corners where
 * that is larger, because the customer is asked to take the part with its corners rounded to it.
 */
export function blockOffset(job: Job, ladder: Ladder, cornerRadiusMm: number): number {
  if (job.request.agreedCornerRadiusMm !== undefined) return ladder.firstOffsetMm;
  return Math.max(ladder.firstOffsetMm, proposedCornerRadius(cornerRadiusMm));
}

/** What the last pass leaves in sharp corners, rounded up to what is asked of the customer, mm. */
export function proposedCornerRadius(leavesMm: number): number {
  return Math.ceil(leavesMm * 100 - 1e-6) / 100;
}

function everyBlockSurvives({ layouts }: SetUp, offsetMm: number): boolean {
  return layouts.every(({ shape }) => shape.tightBlocks(offsetMm).length === 0);
}

/** Estimates levels when they are asked for, each once. */
interface LevelEstimator {
  readonly problems: readonly Problem[];
  /** Null when a stop problem forbids the level. */
  estimate(index: number): WirePassEstimate | null;
}

function levelEstimator(job: Job, wire: Wire, machine: WireMachine, stack: number): LevelEstimator {
  const problems: Problem[] = [];
  const known = new Map<number, WirePassEstimate | null>();
  const burnHeightMm = job.request.heightMm * stack;
  return {
    problems,
    estimate(index) {
      const seen = known.get(index);
      if (seen !== undefined) return seen;
      const level = job.book.wireLevels[index]!;
      const result = estimateWirePass({ book: job.book, material: job.material, wire, machine, level, burnHeightMm });
      for (const p of result.problems) if (!problems.some((q) => q.message === p.message)) problems.push(p);
      known.set(index, result.value);
      return result.value;
    },
  };
}

/** First offset of the ladder with all levels, mm; null when a level is refused. */
function largestOffset(job: Job, wire: Wire, estimator: LevelEstimator): number | null {
  let offset = wire.diameterMm / 2;
  for (const index of job.book.wireLevels.keys()) {
    const estimate = estimator.estimate(index);
    if (estimate === null) return null;
    offset += index === 0 ? estimate.gapMm.value : estimate.stockMm.value;
  }
  return offset;
}

/** Set-ups of one wire by stack and clearance of the guides; openings are laid out once per stack where possible. */
function setUpCache(job: Job, wire: Wire) {
  const setUps = new Map<string, SetUp>();
  const openings = new Map<number, KnownOpenings>();
  return {
    get(stack: number, guideMm: number, offsetMm: number): SetUp {
      const key = `${stack}/${guideMm}`;
      let setUp = setUps.get(key);
      if (setUp === undefined) {
        let known = openings.get(stack);
        if (known === undefined) openings.set(stack, (known = new Map()));
        setUp = planSetUp(job, wire, stack, offsetMm, guideMm, known);
        setUps.set(key, setUp);
      }
      return setUp;
    },
  };
}

function levelNumbers(e: WirePassEstimate, index: number): LevelNumbers {
  return {
    gapMm: e.gapMm.value,
    stockMm: index === 0 ? 0 : e.stockMm.value,
    raUm: e.raUm.value,
    recastUm: e.recastUm.value,
    accuracyMm: e.profileAccuracyMm.value,
    feedMmPerMin: e.feedMmPerMin.value,
  };
}
