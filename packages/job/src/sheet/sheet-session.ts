import { BugError, hasStop, type Problem, type Result } from '@gapwright/base';
import type { Offer } from '@gapwright/costing';
import { type DxfDrawing, readDxf } from '@gapwright/exchange';
import type { Plan, WireFeature } from '@gapwright/planning';
import type { ShopBook } from '@gapwright/process';
import type { PostDefinition } from '@gapwright/program';
import { planDocument } from '../documents/plan-document.js';
import { priceDocument } from '../documents/price-document.js';
import { proofJson, UNPROVED } from '../documents/proof-document.js';
import type { JobFile } from '../job-file.js';
import { type DrawingRun, isPlannable, measureLines, readLines } from '../read-drawing.js';
import {
  type JobRun,
  mergeProblems,
  type ProvenProgram,
  planDrawing,
  priceJob,
  proveOperation,
  readOptionsOf,
  requestOf,
  studyPrice,
  wireOperationsOf,
} from '../run-job.js';
import { standingOf } from '../standing.js';
import { counterOffersOf } from './counter-offers.js';
import type { DraftJob } from './draft-job.js';
import { drawingScene, featureLayers, problemMarks } from './drawing-scene.js';
import { jobOfDraft } from './job-of-draft.js';
import { Kept } from './kept.js';
import { questionsOf } from './open-questions.js';
import type { LoosePath } from './pack-paths.js';
import { offsetWays, passLayers, planMarks } from './plan-scene.js';
import { errorBands, programWalk } from './proof-scene.js';
import { ParsedBooks } from './read-book.js';
import { SHEET_PARTS, type SheetAnswer, type SheetPart, type SheetProof } from './sheet-answer.js';
import { sheetDrawing } from './sheet-drawing.js';
import type { SheetDrawingFile, SheetInputs } from './sheet-inputs.js';
import { NO_ANSWER, patchAnswer, type SheetPatch, type SheetStep } from './sheet-patch.js';

/** Start of the random numbers behind the loss risk: the same job has the same risk on every device. */
export const SHEET_SEED = 1;

/** Figures of the prices have ids of their own, so that a sheet opens any figure by its id alone. */
export const PRICE_IDS = 'p';

/** How many results are kept: a job with its what-ifs and the ways back. */
const DRAWINGS_KEPT = 4;
const PLANS_KEPT = 48;
const PROOFS_KEPT = 8;
const WAYS_KEPT = 40_000;

/** A plan with its price, if it can be made. */
interface PricedPlan {
  readonly plan: Plan;
  readonly problems: readonly Problem[];
}

/** Everything one question is answered from, once the drawing is read and nothing is left open. */
interface Ready {
  readonly job: JobFile;
  readonly book: ShopBook;
  readonly post: PostDefinition;
  readonly drawing: DrawingRun;
  readonly planKey: string;
}

/**
 * Answers what a job sheet asks, part by part, and keeps what the next question is likely to need again: drawings by
 * their hash, plans by their request. Pure otherwise: no files, no clock, the same inputs give the same answer.
 */
export class SheetSession {
  private readonly books = new ParsedBooks();
  private readonly files = new Kept<Result<DxfDrawing>>(DRAWINGS_KEPT);
  private readonly lines = new Kept<ReturnType<typeof readLines>>(DRAWINGS_KEPT);
  private readonly drawings = new Kept<DrawingRun>(DRAWINGS_KEPT);
  private readonly plans = new Kept<PricedPlan>(PLANS_KEPT);
  private readonly offers = new Kept<Offer>(PLANS_KEPT);
  private readonly proofs = new Kept<ReturnType<typeof proveOperation>>(PROOFS_KEPT);
  private readonly ways = new Kept<readonly LoosePath[]>(WAYS_KEPT);

  /**
   * The steps to an answer, of the asked-for parts only. Between two steps the caller may stop for good; what was
   * finished until then stays kept.
   */
  *answer(inputs: SheetInputs, parts: readonly SheetPart[] = SHEET_PARTS): Generator<SheetStep, void> {
    const reports = new Set(parts);
    const ready = yield* this.read(inputs, reports.has('read'));
    if (ready === null) return;
    const planned = yield* this.plan(ready, reports.has('planned'));
    if (planned === null) return;
    let run: JobRun | null = null;
    if (reports.has('proven')) {
      run = yield* this.prove(ready, planned);
    }
    if (reports.has('studied')) yield* this.study(ready, run ?? { ...planned, programs: [] });
  }

  private *read(inputs: SheetInputs, reports: boolean): Generator<SheetStep, Ready | null> {
    const { draft } = inputs;
    const book = this.books.book(inputs.book);
    const post = this.books.post(inputs.post);
    if (book.value === null || post.value === null) {
      yield step('read', { ...NO_ANSWER, problems: [...book.problems, ...post.problems] }, null);
      return null;
    }
    const file = inputs.drawing;
    if (file === null) {
      if (reports) yield step('read', { ...NO_ANSWER, questions: questionsOf(draft, null, book.value) }, null);
      return null;
    }
    const key = drawingKey(file, draft);
    if (this.drawings.peek(key) === undefined && reports) {
      const lines = this.readFile(file, draft, key);
      const scene = drawingScene({ ...lines, contours: [] }, draft.cutLayers);
      yield step(null, { ...NO_ANSWER, scene, problems: lines.problems }, 'measuring the contours');
    }
    const drawing = this.drawings.get(key, () => measureLines(this.readFile(file, draft, key)));
    const questions = questionsOf(draft, drawing, book.value);
    const job = questions.length > 0 ? null : jobOfDraft(draft, file.fileName);
    const mayPlan = job?.value != null && isPlannable(drawing);
    const problems = [...drawing.problems, ...(job?.problems ?? [])];
    if (reports) {
      const found = { questions, drawing: sheetDrawing(drawing, file.fileName, draft.cutLayers, null), problems };
      // The plan brings lines with names; until it comes the last ones stay.
      const scene = drawing.profile === null ? null : drawingScene(drawing, draft.cutLayers);
      yield step('read', mayPlan ? found : { ...NO_PLAN, ...found, scene }, mayPlan ? 'planning' : null);
    }
    if (!mayPlan || job?.value == null) return null;
    const planKey = `${key} ${inputs.book.sha256} ${JSON.stringify(requestOf(job.value))}`;
    return { job: job.value, book: book.value, post: post.value, drawing, planKey };
  }

  private readFile(file: SheetDrawingFile, draft: DraftJob, key: string): ReturnType<typeof readLines> {
    return this.lines.get(key, () =>
      readLines(
        this.files.get(file.sha256, () => readDxf(file.bytes, { fileName: file.fileName })),
        readOptionsOf(draft),
      ),
    );
  }

  /** The plan with its offer; null when a stop problem forbids one. */
  private *plan(ready: Ready, reports: boolean): Generator<SheetStep, Omit<JobRun, 'programs'> | null> {
    const { drawing, job } = ready;
    const { plan, problems } = this.plans.get(ready.planKey, () => planDrawing(drawing, job, ready.book));
    const isStopped = hasStop(problems);
    const offer = isStopped ? null : this.offerOf(ready, plan);
    const run = { drawing, plan, offer, problems };
    if (reports) {
      const marks = [...planMarks(plan), ...problemMarks(problems)];
      const patch: SheetPatch = {
        plan: planDocument({ ...run, programs: [] }, job.drawing),
        drawing: sheetDrawing(drawing, job.drawing, job.cutLayers, plan),
        proofs: null,
        price: null,
        counterOffers: null,
        decisions: [],
        problems,
        cautions: [...new Set(plan.operations.flatMap((op) => op.cautions))],
        standing: standingOf(ready.book, plan),
      };
      yield step('planned', patch, isStopped ? null : 'drawing the passes');
      const lines = featureLayers(drawing, plan);
      const layers = [...lines, ...passLayers(plan, (f, offset) => this.waysOf(ready, f, offset))];
      const { boxMm } = drawing.profile ?? never('a plan without contours');
      yield step(null, { scene: { boxMm, layers, marks, bands: [], walks: [] } }, isStopped ? null : 'proving');
    }
    return isStopped ? null : run;
  }

  private offerOf({ job, book, planKey }: Ready, plan: Plan): Offer {
    return this.offers.get(`${planKey} ${job.offer?.unitPrice ?? ''}`, () => priceJob(plan, job, book, SHEET_SEED));
  }

  private waysOf({ planKey }: Ready, feature: WireFeature, offsetMm: number): readonly LoosePath[] {
    const drawing = planKey.slice(0, planKey.indexOf(' '));
    return this.ways.get(`${drawing} ${feature.id} ${feature.lengthMm} ${offsetMm}`, () =>
      offsetWays(feature, offsetMm),
    );
  }

  private *prove(ready: Ready, planned: Omit<JobRun, 'programs'>): Generator<SheetStep, JobRun> {
    const { plan } = planned;
    if (plan === null) return never('a proof without a plan');
    const programs: ProvenProgram[] = [];
    let { problems } = planned;
    const operations = wireOperationsOf(plan);
    for (const [i, operation] of operations.entries()) {
      const key = `${ready.planKey} ${operation.number} ${ready.job.title ?? ''}`;
      const made = this.proofs.get(key, () => proveOperation(operation, plan, ready.job, ready.post));
      problems = mergeProblems(problems, made.problems);
      if (made.program !== null) programs.push(made.program);
      if (i + 1 < operations.length) yield { ...step(null, {}, 'proving'), progress: (i + 1) / operations.length };
    }
    const keepsOffer = !hasStop(problems);
    const run: JobRun = { ...planned, programs, problems, offer: keepsOffer ? planned.offer : null };
    const findings = programs.flatMap((p) => p.proof.findings);
    const isClosed = (id: string): boolean => plan.features.find((f) => f.id === id)?.contour.isClosed ?? false;
    const worst = programs.find((p) => p.proof.verdict === 'fail') ?? programs[0];
    const patch: SheetPatch = {
      proofs: programs.map(
        (p): SheetProof => ({ ...proofJson(p.proof), operation: p.operation, fileName: p.fileName }),
      ),
      problems,
      provenPlan: {
        proof: worst === undefined ? { ...UNPROVED } : proofJson(worst.proof),
        programs: Object.fromEntries(programs.map((p) => [p.fileName, p.text])),
        programOf: Object.fromEntries(programs.map((p) => [p.operation, p.fileName])),
        keepsOffer,
        problems,
      },
      scene: {
        bands: programs.flatMap((p) => errorBands(p, isClosed)),
        walks: programs.map(programWalk),
        marks: [...planMarks(plan), ...problemMarks([...problems, ...findings])],
      },
    };
    yield step('proven', patch, keepsOffer ? 'pricing other quantities and changes' : null);
    return run;
  }

  private *study(ready: Ready, run: JobRun): Generator<SheetStep> {
    const { job, book, post } = ready;
    // The study plans from the run; it never reads the drawing again.
    const inputs = { job, book, post, seed: SHEET_SEED, drawing: { bytes: NO_BYTES, fileName: job.drawing } };
    const study = studyPrice(run, inputs);
    const price = priceDocument(run, study, job.drawing, PRICE_IDS);
    yield step('studied', { price, counterOffers: counterOffersOf(study.drivers) }, null);
  }
}

const NO_BYTES = new Uint8Array(0);

const { questions: _questions, drawing: _drawing, scene: _scene, problems: _problems, ...NO_PLAN } = NO_ANSWER;

/** All parts of an answer in one go. */
export function sheetAnswerOf(inputs: SheetInputs, session = new SheetSession()): SheetAnswer {
  let answer = NO_ANSWER;
  for (const { patch } of session.answer(inputs)) answer = patchAnswer(answer, patch);
  return answer;
}

function step(done: SheetPart | null, patch: SheetPatch, working: string | null): SheetStep {
  return { done, patch, working, progress: null };
}

/** What decides how a drawing is read. */
function drawingKey({ sha256 }: SheetDrawingFile, { units, joinMm, layers }: DraftJob): string {
  return `${sha256}/${JSON.stringify([units ?? null, joinMm ?? null, layers ?? null]).replaceAll(' ', '_')}`;
}

function never(what: string): never {
  throw new BugError(`There is ${what}`);
}
