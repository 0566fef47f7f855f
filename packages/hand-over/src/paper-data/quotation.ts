import type { Problem } from '@gapwright/base';
import type { QuotationData } from '@gapwright/papers';
import { type PaperContext, paperHead, paperPart, validUntil } from './context.js';
import { partDrawing } from './drawing.js';
import { savings } from './savings.js';

/** The quotation as the customer gets it: prices and what would lower them, no costs. */
export function quotationData(context: PaperContext): QuotationData {
  const { inputs, plan, offer, study, run } = context;
  const { job } = inputs;
  const drivers = savings(study);
  return {
    ...paperHead(context),
    customer: { name: job.customer ?? 'Customer' },
    validUntil: validUntil(context),
    currency: offer.currency,
    part: paperPart(context),
    drawing: partDrawing(run, plan),
    prices: study.table.map((o) => ({
      quantity: o.quantity,
      unitPrice: o.unitPrice.value,
      totalPrice: o.orderValue.value,
    })),
    drivers: drivers.map((d) => ({
      says: d.says,
      priceChange: d.unitPrice.value - offer.computedUnitPrice.value,
      relativeChange: -d.saving.value,
    })),
    assumptions: assumptions(context),
    problems: run.problems.filter((p) => p.severity !== 'info' && isForCustomer(p)),
    asks: drivers
      .filter((d) => d.id === 'radius' || d.id === 'tolerance' || d.id === 'finish')
      .map((d) => `${d.says}: would that do?`),
    terms: [
      'Prices without tax and freight. Material as stated; certificates on request.',
      'Recast depth and surface are estimates checked on our own cut-ups; where your specification limits them, it decides.',
    ],
  };
}

/** Only what the customer can answer goes into a quotation: their drawing and their requirements, never our set-up. */
function isForCustomer({ code }: Problem): boolean {
  return /^(DXF|GEOMETRY|PLAN)-/.test(code) || code === 'WIRE-SHARP-CORNER' || code === 'WIRE-CORNERS-ROUNDED';
}

function assumptions({ run, plan }: PaperContext): string[] {
  const { profile } = run.drawing;
  const out: string[] = [];
  if (profile?.unitsAssumed) out.push('The drawing does not state its units; millimetres are assumed.');
  if (profile && profile.repairs.length > 0) {
    const closed = profile.repairs.filter((r) => r.kind === 'gap closed');
    const widest = closed.reduce((most, r) => Math.max(most, r.sizeMm), 0);
    if (closed.length === 1) out.push(`A gap of ${widest.toFixed(4)} mm in the drawing was closed.`);
    if (closed.length > 1)
      out.push(`${closed.length} gaps in the drawing were closed, the widest ${widest.toFixed(4)} mm.`);
  }
  if (profile && profile.largestFitDeviationMm > 0) {
    out.push(
      `Free curves are followed by arcs within ${(profile.largestFitDeviationMm * 1000).toFixed(2)} µm of the drawing.`,
    );
  }
  const sharp = plan.features.reduce((n, f) => n + f.sharpInsideCorners.length, 0);
  const wire = plan.operations.find((op) => op.process === 'wire');
  if (sharp > 0 && wire?.process === 'wire' && wire.agreedCornerRadiusMm > 0) {
    const corners = sharp === 1 ? 'An inside corner drawn sharp keeps' : `${sharp} inside corners drawn sharp keep`;
    out.push(`${corners} a radius of up to ${wire.agreedCornerRadiusMm.toFixed(2)} mm.`);
  }
  return out;
}
