import type { Offer } from '@gapwright/costing';
import { type JobInputs, type JobRun, type PriceStudy, standingOf } from '@gapwright/job';
import type { PaperHead, PaperPart } from '@gapwright/papers';
import type { Plan } from '@gapwright/planning';
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

export function paperHead(context: PaperContext): PaperHead {
  const { inputs, plan, date } = context;
  const { job, book } = inputs;
  return {
    shop: { name: book.name, lines: [] },
    date,
    jobNumber: job.enquiry ?? job.drawing.replace(/\.dxf$/i, ''),
    lengthUnit: job.units === 'in' || job.units === 'ft' ? 'inch' : 'mm',
    invented: job.invented ?? false,
    standing: standingOf(book, plan),
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
