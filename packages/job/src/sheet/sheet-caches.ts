import type { Problem, Result } from '@gapwright/base';
import type { Offer } from '@gapwright/costing';
import { type DxfDrawing, readDxf } from '@gapwright/exchange';
import type { Plan, WireFeature, WireOperation } from '@gapwright/planning';
import type { ShopBook } from '@gapwright/process';
import type { PostDefinition } from '@gapwright/program';
import type { JobFile } from '../job-file.js';
import { type DrawingLines, type DrawingRun, measureLines, readLines } from '../read-drawing.js';
import { planDrawing, priceJob, proveOperation, readOptionsOf, requestOf } from '../run-job.js';
import type { DraftJob } from './draft-job.js';
import { Kept } from './kept.js';
import type { Outcome } from './outcome.js';
import type { LoosePath } from './pack-paths.js';
import { offsetWays } from './plan-scene.js';
import type { SheetDrawingFile } from './sheet-inputs.js';

/** Start of the random numbers behind the loss risk: the same job has the same risk on every device. */
export const SHEET_SEED = 1;

/** How many results are kept: a job with its what-ifs and the ways back. */
const DRAWINGS_KEPT = 4;
const PLANS_KEPT = 48;
const PROOFS_KEPT = 8;
const WAYS_KEPT = 20_000;

/** Everything a plan is made from, once the drawing is read and nothing is left open. */
export interface Ready {
  readonly draft: DraftJob;
  readonly job: JobFile;
  readonly book: ShopBook;
  readonly bookKey: string;
  readonly post: PostDefinition;
  readonly postKey: string;
  readonly drawing: DrawingRun;
  readonly drawingKey: string;
}

/** A plan with its price and with what was noticed from the drawing on. */
export interface PricedPlan extends Outcome {
  readonly problems: readonly Problem[];
}

/** What a session keeps. Everything is made by pure functions of its key, so nothing here can grow old. */
export class SheetCaches {
  private readonly files = new Kept<Result<DxfDrawing>>(DRAWINGS_KEPT);
  private readonly lines = new Kept<DrawingLines>(DRAWINGS_KEPT);
  private readonly drawings = new Kept<DrawingRun>(DRAWINGS_KEPT);
  private readonly plans = new Kept<Omit<PricedPlan, 'offer'>>(PLANS_KEPT);
  private readonly offers = new Kept<Offer>(PLANS_KEPT);
  private readonly proofs = new Kept<ReturnType<typeof proveOperation>>(PROOFS_KEPT);
  private readonly ways = new Kept<readonly LoosePath[]>(WAYS_KEPT);

  isMeasured(key: string): boolean {
    return this.drawings.peek(key) !== undefined;
  }

  linesOf(file: SheetDrawingFile, draft: DraftJob, key: string): DrawingLines {
    return this.lines.get(key, () =>
      readLines(
        this.files.get(file.sha256, () => readDxf(file.bytes, { fileName: file.fileName })),
        readOptionsOf(draft),
      ),
    );
  }

  drawingOf(file: SheetDrawingFile, draft: DraftJob, key: string): DrawingRun {
    return this.drawings.get(key, () => measureLines(this.linesOf(file, draft, key)));
  }

  /** The plan with its price; a plan that was stopped has none. */
  planOf(ready: Ready): PricedPlan {
    const { drawing, job, book } = ready;
    const key = planKey(ready);
    const { plan, problems } = this.plans.get(key, () => planDrawing(drawing, job, book));
    const isStopped = problems.some((p) => p.severity === 'stop');
    const offer = isStopped ? null : this.offers.get(offerKey(ready), () => priceJob(plan, job, book, SHEET_SEED));
    return { plan, problems, offer };
  }

  /** The plan with its price if both were made already. */
  knownPlan(ready: Ready): PricedPlan | null {
    const known = this.plans.peek(planKey(ready));
    if (known === undefined) return null;
    const isStopped = known.problems.some((p) => p.severity === 'stop');
    const offer = isStopped ? null : this.offers.peek(offerKey(ready));
    return offer === undefined ? null : { ...known, offer };
  }

  proofOf(ready: Ready, plan: Plan, operation: WireOperation): ReturnType<typeof proveOperation> {
    const { job, post, postKey } = ready;
    const key = `${planKey(ready)} ${postKey} ${operation.number} ${job.title ?? ''}`;
    return this.proofs.get(key, () => proveOperation(operation, plan, job, post));
  }

  waysOf({ drawingKey, job }: Ready, feature: WireFeature, offsetMm: number): readonly LoosePath[] {
    // Layers and part side decide which contour has this name and how it is turned.
    const key = `${drawingKey} ${feature.id} ${job.cutLayers?.join() ?? ''} ${job.openPartSide ?? ''} ${offsetMm}`;
    return this.ways.get(key, () => offsetWays(feature, offsetMm));
  }
}

function planKey({ drawingKey, bookKey, job }: Ready): string {
  return `${drawingKey} ${bookKey} ${JSON.stringify(requestOf(job))}`;
}

function offerKey(ready: Ready): string {
  return `${planKey(ready)} ${ready.job.offer?.unitPrice ?? ''}`;
}

/** What decides how a drawing is read. */
export function drawingKeyOf({ sha256, fileName }: SheetDrawingFile, { units, joinMm, layers }: DraftJob): string {
  // Problems name the file, so the same bytes under another name are another drawing.
  return JSON.stringify([sha256, fileName, units ?? null, joinMm ?? null, layers ?? null]);
}
