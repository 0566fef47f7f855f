import { BugError, hasStop, type Problem } from '@gapwright/base';
import { type Offer, offerFor, type PriceDriver, priceDriverSteps } from '@gapwright/costing';
import { type Plan, planWire, proofSetupOf, type WireOperation, type WireRequest } from '@gapwright/planning';
import type { ShopBook } from '@gapwright/process';
import { type Motion, type PostDefinition, readProgram, writeProgram } from '@gapwright/program';
import { type ProofResult, type ProofSetup, proveProgram } from '@gapwright/proof';
import type { JobFile } from './job-file.js';
import {
  type DrawingFile,
  type DrawingRun,
  isPlannable,
  type ReadDrawingOptions,
  readDrawing,
} from './read-drawing.js';

/** Everything a job needs; engines read no files and no clock. */
export interface JobInputs {
  readonly job: JobFile;
  readonly drawing: DrawingFile;
  readonly book: ShopBook;
  readonly post: PostDefinition;
  /** Start of the random numbers behind the loss risk. */
  readonly seed: number;
  /** Largest deviation of fitted curves, mm; from the tolerance when absent. */
  readonly fitMm?: number;
}

/** The program of one wire operation, proved. */
export interface ProvenProgram {
  readonly operation: number;
  readonly fileName: string;
  readonly text: string;
  /** What a controller does with the text, as read back from it. */
  readonly motions: readonly Motion[];
  readonly setup: ProofSetup;
  readonly proof: ProofResult;
}

/** One job, run through all rooms as far as its problems allow. */
export interface JobRun {
  readonly drawing: DrawingRun;
  readonly plan: Plan | null;
  readonly programs: readonly ProvenProgram[];
  readonly offer: Offer | null;
  readonly problems: readonly Problem[];
}

/** Offers at other quantities and what drives the price; each is planned again, so it is asked for apart. */
export interface PriceStudy {
  readonly table: readonly Offer[];
  readonly drivers: readonly PriceDriver[];
}

/** The planner's request behind a job file. */
export function requestOf(job: JobFile): WireRequest {
  const {
    wire,
    machine,
    stack,
    plate,
    keepOuts,
    openPartSide,
    cutLayers,
    recastMaxUm,
    agreedCornerRadiusMm,
    overrides,
  } = job;
  return {
    materialId: job.material,
    heightMm: job.heightMm,
    raUm: job.raUm,
    toleranceMm: job.toleranceMm,
    quantity: job.quantity,
    ...(recastMaxUm === undefined ? {} : { recastMaxUm }),
    ...(agreedCornerRadiusMm === undefined ? {} : { agreedCornerRadiusMm }),
    ...(wire === undefined ? {} : { wireId: wire }),
    ...(machine === undefined ? {} : { machineId: machine }),
    ...(stack === undefined ? {} : { stack }),
    ...(plate === undefined ? {} : { plate }),
    ...(keepOuts === undefined ? {} : { keepOuts }),
    ...(openPartSide === undefined ? {} : { openPartSide }),
    ...(cutLayers === undefined ? {} : { cutLayers }),
    ...(overrides === undefined ? {} : { overrides }),
  };
}

/** How the job file wants its drawing read. */
export function readOptionsOf(job: Pick<JobFile, 'units' | 'joinMm' | 'layers'>, fitMm?: number): ReadDrawingOptions {
  return {
    ...(job.units === undefined ? {} : { units: job.units }),
    ...(job.joinMm === undefined ? {} : { joinMm: job.joinMm }),
    ...(fitMm === undefined ? {} : { fitMm }),
    ...(job.layers === undefined ? {} : { layers: job.layers }),
  };
}

/** A planned job; `problems` are those of the drawing and of the plan, each once. */
export interface PlanStage {
  readonly plan: Plan;
  readonly problems: readonly Problem[];
}

/** Plans a job whose drawing was read. The drawing must be plannable. */
export function planDrawing(drawing: DrawingRun, job: JobFile, book: ShopBook): PlanStage {
  if (drawing.profile === null) throw new BugError('planDrawing wants a drawing with contours');
  const plan = planWire(drawing.profile.contours, requestOf(job), book);
  // The nesting is judged again by planning; its problems are not listed twice.
  return { plan, problems: mergeProblems(drawing.problems, plan.problems) };
}

/** Prices a finished plan at the planner's own price, or the computed one. */
export function priceJob(plan: Plan, job: JobFile, book: ShopBook, seed: number): Offer {
  const unitPrice = job.offer?.unitPrice;
  return offerFor(plan, book, { seed, ...(unitPrice === undefined ? {} : { unitPrice }) });
}

/** Wire operations of a plan, in order: each has a program. */
export function wireOperationsOf(plan: Plan): WireOperation[] {
  return plan.operations.filter((op): op is WireOperation => op.process === 'wire');
}

/** Reads, plans, writes, proves and prices one job. A stop problem ends the run where it stands; nothing is thrown away. */
export function runJob(inputs: JobInputs): JobRun {
  const { job, book, post, seed } = inputs;
  const drawing = readDrawing(inputs.drawing, readOptionsOf(job, inputs.fitMm));
  if (!isPlannable(drawing)) return { drawing, plan: null, programs: [], offer: null, problems: drawing.problems };
  const planned = planDrawing(drawing, job, book);
  const { plan } = planned;
  let problems = planned.problems;
  if (hasStop(problems)) return { drawing, plan, programs: [], offer: null, problems };

  const programs: ProvenProgram[] = [];
  for (const operation of wireOperationsOf(plan)) {
    const made = proveOperation(operation, plan, job, post);
    // What is true of the post definition is said once, not for each program.
    problems = mergeProblems(problems, made.problems);
    if (made.program !== null) programs.push(made.program);
  }
  if (hasStop(problems)) return { drawing, plan, programs, offer: null, problems };
  return { drawing, plan, programs, offer: priceJob(plan, job, book, seed), problems };
}

/** True when every program of the run passed its proof. */
export function isProven(run: JobRun): boolean {
  return run.programs.length > 0 && run.programs.every((p) => p.proof.verdict === 'pass');
}

/** Prices at other quantities and what drives the price. Empty when the job has no offer. */
export function studyPrice(run: JobRun, inputs: StudyInputs): PriceStudy {
  const steps = studySteps(run, inputs);
  for (let step = steps.next(); ; step = steps.next()) if (step.done === true) return step.value;
}

/** What a price study needs beside the run. */
export type StudyInputs = Pick<JobInputs, 'job' | 'book' | 'seed'>;

/** The work of {@link studyPrice} in steps: yields the share done after each plan, so that a caller may stop in between. */
export function* studySteps(run: JobRun, { seed, book, job }: StudyInputs): Generator<number, PriceStudy> {
  const { plan, offer } = run;
  const profile = run.drawing.profile;
  if (plan === null || offer === null || profile === null) return { table: [], drivers: [] };
  const quantities = [...new Set([...(job.offer?.quantities ?? defaultQuantities(job.quantity)), job.quantity])];
  const table: Offer[] = [];
  for (const quantity of quantities.sort((a, b) => a - b)) {
    if (quantity === job.quantity) {
      table.push(offer);
      continue;
    }
    yield (TABLE_SHARE * table.length) / quantities.length;
    table.push(offerFor(planWire(profile.contours, { ...plan.request, quantity }, book), book, { seed }));
  }
  const drivers = priceDriverSteps(profile.contours, plan, book, offer, { seed });
  for (let step = drivers.next(); ; step = drivers.next()) {
    if (step.done === true) return { table, drivers: step.value };
    yield TABLE_SHARE + (1 - TABLE_SHARE) * step.value;
  }
}

/** Share of the plans of a study that belongs to the price table; there are about twice as many changes to try. */
const TABLE_SHARE = 0.3;

/** Quantities worth showing when nobody named any. */
function defaultQuantities(quantity: number): number[] {
  return [1, 5, 20, 50].filter((n) => n !== quantity);
}

/** File name of the program of an operation. */
export function programFileName(operation: number): string {
  return `op${operation}.nc`;
}

/** Writes the program of one operation, reads the text back and proves it. */
export function proveOperation(
  operation: WireOperation,
  plan: Plan,
  job: JobFile,
  post: PostDefinition,
): { readonly program: ProvenProgram | null; readonly problems: readonly Problem[] } {
  const written = writeProgram(operation.steps, post, {
    title: `${job.title ?? job.drawing}, operation ${operation.number}`,
    notes: [
      `Material ${plan.request.materialId}, height ${operation.burnHeightMm} mm, wire ${operation.wireId}`,
      'Check against the set-up sheet before running. The machine maker’s manual comes first.',
    ],
  });
  if (written.value === null) return { program: null, problems: written.problems };
  // The proof starts from the text alone, as if somebody else had written it.
  const read = readProgram(written.value.text, post);
  if (read.value === null) return { program: null, problems: [...written.problems, ...read.problems] };
  const { setup, features } = proofSetupOf(plan, operation);
  const proof = proveProgram(read.value, setup, features);
  const program = {
    operation: operation.number,
    fileName: programFileName(operation.number),
    text: written.value.text,
    motions: read.value,
    setup,
    proof,
  };
  return { program, problems: written.problems };
}

/** Joins two lists of problems; a problem with the same code and message is kept once. */
export function mergeProblems(first: readonly Problem[], second: readonly Problem[]): Problem[] {
  const seen = new Set(first.map((p) => `${p.code} ${p.message}`));
  return [...first, ...second.filter((p) => !seen.has(`${p.code} ${p.message}`))];
}
