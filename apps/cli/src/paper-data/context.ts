import type { Offer } from '@gapwright/costing';
import type { JobInputs, JobRun, PriceStudy } from '@gapwright/job';
import type { PaperHead, PaperPart } from '@gapwright/papers';
import type { Plan } from '@gapwright/planning';

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

const STANDING =
  'Times, finishes and costs are starting values from published ranges and common practice; none of this shop’s own burns are in them yet.';

export function paperHead({ inputs, plan, date }: PaperContext): PaperHead {
  const { job, book } = inputs;
  return {
    shop: { name: book.name, lines: [] },
    date,
    jobNumber: job.enquiry ?? job.drawing.replace(/\.dxf$/i, ''),
    lengthUnit: job.units === 'in' || job.units === 'ft' ? 'inch' : 'mm',
    invented: job.invented ?? false,
    standing: STANDING,
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
