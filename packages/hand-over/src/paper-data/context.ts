import type { Offer } from '@gapwright/costing';
import type { JobInputs, JobRun, PriceStudy } from '@gapwright/job';
import type { PaperHead, PaperPart } from '@gapwright/papers';
import type { Plan } from '@gapwright/planning';
import { burnSourceOf, findMaterial } from '@gapwright/process';
import { daysLater } from '../day.js';

/** Everything the papers are filled from. */
export interface PaperContext {
  readonly run: JobRun;
  readonly plan: Plan;
  readonly offer: Offer;
  readonly study: PriceStudy;
  readonly inputs: JobInputs;
  /** `YYYY-MM-DD`. */
  readonly date: string;
}

/** What the numbers rest on: starting values, or the shop's own burns where the book has learnt from them. */
function standingOf({ inputs, plan }: PaperContext): string {
  const { book } = inputs;
  const wire = plan.operations.find((op) => op.process === 'wire');
  const rates = [
    findMaterial(book, plan.request.materialId)?.wireRateFactor,
    book.wireMachines.find((m) => m.id === wire?.machineId)?.rateFactor,
  ];
  const burns = rates.flatMap((rate) => (rate === undefined ? [] : (burnSourceOf(rate)?.title ?? [])))[0];
  const values = 'starting values from published ranges and common practice';
  return burns === undefined
    ? `Times, finishes and costs are ${values}; none of this shop’s own burns are in them yet.`
    : `Burning rates are learnt from this shop’s own burns (${burns}); finishes, gaps and other figures are ${values}.`;
}

export function paperHead(context: PaperContext): PaperHead {
  const { inputs, plan, date } = context;
  const { job, book } = inputs;
  return {
    shop: { name: book.name, lines: [] },
    date,
    jobNumber: job.enquiry ?? job.drawing.replace(/\.dxf$/i, ''),
    lengthUnit: job.units === 'in' || job.units === 'ft' ? 'inch' : 'mm',
    invented: job.invented ?? false,
    standing: standingOf(context),
    bookVersion: plan.bookVersion,
  };
}

export function paperPart({ inputs, plan }: PaperContext): PaperPart {
  const { job, drawing } = inputs;
  const { request } = plan;
  return {
    name: job.title ?? drawing.fileName,
    drawingFile: drawing.fileName,
    material: request.materialId,
    heightMm: request.heightMm,
    toleranceMm: request.toleranceMm,
    raUm: request.raUm,
    ...(request.recastMaxUm === undefined ? {} : { recastMaxUm: request.recastMaxUm }),
    ...(request.agreedCornerRadiusMm === undefined ? {} : { agreedCornerRadiusMm: request.agreedCornerRadiusMm }),
  };
}

/** Days a price holds unless the shop says otherwise (common practice). */
const VALID_DAYS = 30;

/** Last day the prices hold. */
export function validUntil({ date }: PaperContext): string {
  return daysLater(date, VALID_DAYS);
}
