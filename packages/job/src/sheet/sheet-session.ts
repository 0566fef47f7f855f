import { BugError, hasStop } from '@gapwright/base';
import { planDocument } from '../documents/plan-document.js';
import { priceDocument } from '../documents/price-document.js';
import { proofJson, UNPROVED } from '../documents/proof-document.js';
import { isPlannable } from '../read-drawing.js';
import { type JobRun, mergeProblems, type ProvenProgram, studySteps, wireOperationsOf } from '../run-job.js';
import { standingOf } from '../standing.js';
import { counterOffersOf } from './counter-offers.js';
import { drawingScene, featureLayers, problemMarks } from './drawing-scene.js';
import { jobOfDraft } from './job-of-draft.js';
import { questionsOf } from './open-questions.js';
import { passLayers, planMarks } from './plan-scene.js';
import { errorBands, programWalk } from './proof-scene.js';
import { ParsedBooks } from './read-book.js';
import { type Decision, SHEET_PARTS, type SheetAnswer, type SheetPart, type SheetProof } from './sheet-answer.js';
import { drawingKeyOf, type PricedPlan, type Ready, SHEET_SEED, SheetCaches } from './sheet-caches.js';
import { sheetDrawing } from './sheet-drawing.js';
import type { SheetInputs } from './sheet-inputs.js';
import { NO_ANSWER, patchAnswer, type SheetPatch, type SheetStep } from './sheet-patch.js';
import { knownDecisions, weighOptions, weighOverruled } from './weigh.js';

/** Figures of the prices have ids of their own, so that a sheet opens any figure by its id alone. */
export const PRICE_IDS = 'p';

/**
 * Answers what a job sheet asks, part by part, and keeps what the next question is likely to need again: drawings by
 * their hash, plans by their request. Pure otherwise: no files, no clock, the same inputs give the same answer.
 */
export class SheetSession {
  private readonly books = new ParsedBooks();
  private readonly caches = new SheetCaches();

  /**
   * The steps to an answer, of the asked-for parts only. Between two steps the caller may stop for good; what was
   * finished until then stays kept.
   */
  *answer(inputs: SheetInputs, parts: readonly SheetPart[] = SHEET_PARTS): Generator<SheetStep, void> {
    const wants = new Set(parts);
    const ready = yield* this.read(inputs, wants.has('read'));
    if (ready === null) return;
    const planned = this.caches.planOf(ready);
    if (wants.has('planned')) yield* this.showPlan(ready, planned);
    const isStopped = hasStop(planned.problems);
    let run: JobRun = { ...planned, drawing: ready.drawing, programs: [] };
    if (wants.has('proven') && !isStopped) run = yield* this.prove(ready, run);
    let decisions: readonly Decision[] = [];
    if (wants.has('weighed')) decisions = yield* this.weighOverruled(ready, planned, run.offer !== null);
    if (wants.has('studied') && run.offer !== null) yield* this.study(ready, run, wants.has('weighed'));
    if (wants.has('weighed')) yield* this.weighOptions(ready, planned, decisions);
  }

  private *read(inputs: SheetInputs, reports: boolean): Generator<SheetStep, Ready | null> {
    const { draft, drawing: file } = inputs;
    const book = this.books.book(inputs.book);
    const post = this.books.post(inputs.post);
    if (book.value === null || post.value === null) {
      if (reports) yield step('read', { ...NO_ANSWER, problems: [...book.problems, ...post.problems] }, null);
      return null;
    }
    if (file === null) {
      if (reports) yield step('read', { ...NO_ANSWER, questions: questionsOf(draft, null, book.value) }, null);
      return null;
    }
    const drawingKey = drawingKeyOf(file, draft);
    if (reports && !this.caches.isMeasured(drawingKey)) {
      const lines = this.caches.linesOf(file, draft, drawingKey);
      const scene = lines.profile === null ? null : drawingScene({ ...lines, contours: [] }, draft.cutLayers);
      yield step(null, { ...NO_ANSWER, scene, problems: lines.problems }, 'measuring the contours');
    }
    const drawing = this.caches.drawingOf(file, draft, drawingKey);
    const questions = questionsOf(draft, drawing, book.value);
    const job = questions.length > 0 ? { value: null, problems: [] } : jobOfDraft(draft, file.fileName);
    const mayPlan = job.value !== null && isPlannable(drawing);
    if (reports) {
      const problems = [...drawing.problems, ...job.problems];
      const found = { questions, drawing: sheetDrawing(drawing, file.fileName, draft.cutLayers, null), problems };
      // The plan brings lines with names; until it comes the last ones stay.
      const scene = drawing.profile === null ? null : drawingScene(drawing, draft.cutLayers);
      yield step('read', mayPlan ? found : { ...NO_PLAN, ...found, scene }, mayPlan ? 'planning' : null);
    }
    if (!mayPlan || job.value === null) return null;
    return {
      draft,
      job: job.value,
      book: book.value,
      bookKey: inputs.book.sha256,
      post: post.value,
      postKey: inputs.post.sha256,
      drawing,
      drawingKey,
    };
  }

  private *showPlan(ready: Ready, planned: PricedPlan): Generator<SheetStep> {
    const { drawing, job, book } = ready;
    const { plan, problems } = planned;
    const isStopped = hasStop(problems);
    const patch: SheetPatch = {
      plan: planDocument({ ...planned, drawing, programs: [] }, job.drawing),
      drawing: sheetDrawing(drawing, job.drawing, job.cutLayers, plan),
      proofs: null,
      price: null,
      counterOffers: null,
      decisions: knownDecisions(this.caches, ready, planned),
      problems,
      cautions: [...new Set(plan.operations.flatMap((op) => op.cautions))],
      standing: standingOf(book, plan),
    };
    yield step('planned', patch, 'drawing the passes');
    const passes = passLayers(plan, (feature, offsetMm) => this.caches.waysOf(ready, feature, offsetMm));
    const scene = {
      boxMm: drawing.profile?.boxMm ?? never('a plan without contours'),
      layers: [...featureLayers(drawing, plan), ...passes],
      marks: [...planMarks(plan), ...problemMarks(problems)],
      bands: [],
      walks: [],
    };
    yield step(null, { scene }, isStopped ? 'weighing what was overruled' : 'proving');
  }

  private *prove(ready: Ready, planned: JobRun): Generator<SheetStep, JobRun> {
    const plan = planned.plan ?? never('a proof without a plan');
    const programs: ProvenProgram[] = [];
    let { problems } = planned;
    const operations = wireOperationsOf(plan);
    for (const [i, operation] of operations.entries()) {
      const made = this.caches.proofOf(ready, plan, operation);
      problems = mergeProblems(problems, made.problems);
      if (made.program !== null) programs.push(made.program);
      if (i + 1 < operations.length) yield step(null, {}, 'proving', (i + 1) / operations.length);
    }
    const keepsOffer = !hasStop(problems);
    const run = { ...planned, programs, problems, offer: keepsOffer ? planned.offer : null };
    yield step('proven', provenPatch(run, keepsOffer), 'weighing what was overruled');
    return run;
  }

  private *weighOverruled(
    ready: Ready,
    planned: PricedPlan,
    isPriced: boolean,
  ): Generator<SheetStep, readonly Decision[]> {
    const next = isPriced ? 'pricing other quantities and changes' : 'weighing other choices';
    for (const share of weighOverruled(this.caches, ready)) yield step(null, {}, 'weighing what was overruled', share);
    const decisions = knownDecisions(this.caches, ready, planned);
    yield step(null, { decisions }, next);
    return decisions;
  }

  private *study(ready: Ready, run: JobRun, hasMore: boolean): Generator<SheetStep> {
    const { job, book } = ready;
    const steps = studySteps(run, { job, book, seed: SHEET_SEED });
    for (let at = steps.next(); ; at = steps.next()) {
      if (at.done === true) {
        const price = priceDocument(run, at.value, job.drawing, PRICE_IDS);
        const patch = { price, counterOffers: counterOffersOf(at.value.drivers) };
        yield step('studied', patch, hasMore ? 'weighing other choices' : null);
        return;
      }
      yield step(null, {}, 'pricing other quantities and changes', at.value);
    }
  }

  private *weighOptions(ready: Ready, planned: PricedPlan, known: readonly Decision[]): Generator<SheetStep> {
    const steps = weighOptions(this.caches, ready, planned, known);
    for (let at = steps.next(); ; at = steps.next()) {
      if (at.done === true) {
        yield step('weighed', { decisions: at.value }, null);
        return;
      }
      yield step(null, {}, 'weighing other choices', at.value);
    }
  }
}

const { questions: _q, drawing: _d, scene: _s, problems: _p, ...NO_PLAN } = NO_ANSWER;

/** All parts of an answer in one go. */
export function sheetAnswerOf(inputs: SheetInputs, session = new SheetSession()): SheetAnswer {
  let answer = NO_ANSWER;
  for (const { patch } of session.answer(inputs)) answer = patchAnswer(answer, patch);
  return answer;
}

function provenPatch({ plan, programs, problems }: JobRun, keepsOffer: boolean): SheetPatch {
  const { features } = plan ?? never('a proof without a plan');
  const open = new Set(features.filter((f) => !f.contour.isClosed).map((f) => f.id));
  const worst = programs.find((p) => p.proof.verdict === 'fail') ?? programs[0];
  const findings = programs.flatMap((p) => p.proof.findings);
  return {
    proofs: programs.map((p): SheetProof => ({ ...proofJson(p.proof), operation: p.operation, fileName: p.fileName })),
    problems,
    provenPlan: {
      proof: worst === undefined ? { ...UNPROVED } : proofJson(worst.proof),
      programs: Object.fromEntries(programs.map((p) => [p.fileName, p.text])),
      programOf: Object.fromEntries(programs.map((p) => [p.operation, p.fileName])),
      keepsOffer,
      problems,
    },
    scene: {
      bands: programs.flatMap((p) => errorBands(p, (feature) => !open.has(feature))),
      walks: programs.map(programWalk),
      marks: [...planMarks(plan!), ...problemMarks([...problems, ...findings])],
    },
  };
}

function step(
  done: SheetPart | null,
  patch: SheetPatch,
  working: string | null,
  progress: number | null = null,
): SheetStep {
  return { done, patch, working, progress };
}

function never(what: string): never {
  throw new BugError(`There is ${what}`);
}
