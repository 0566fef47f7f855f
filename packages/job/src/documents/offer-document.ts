import type { Offer, PriceDriver } from '@gapwright/costing';
import { z } from 'zod';
import { figureSchema } from './common-schema.js';

const costLineSchema = z.strictObject({
  id: z.string(),
  label: z.string(),
  group: z.enum(['machine', 'labour', 'material', 'use-up', 'once', 'risk']),
  total: figureSchema,
});

/** The offer at one quantity. */
export const offerSchema = z.strictObject({
  quantity: z.int(),
  currency: z.string(),
  unitPrice: figureSchema,
  computedUnitPrice: figureSchema,
  orderValue: figureSchema,
  lossRisk: figureSchema,
  expectedUnitCost: figureSchema,
  unitCost: figureSchema,
  totalCost: figureSchema,
  lines: z.array(costLineSchema),
  atRisk: z.array(z.strictObject({ risk: z.number(), unitPrice: figureSchema })),
});

export const driverSchema = z.strictObject({
  id: z.enum(['radius', 'tolerance', 'finish', 'recast', 'height', 'quantity']),
  says: z.string(),
  unitPrice: figureSchema,
  /** Share of the price saved. */
  saving: figureSchema,
  /** Change of the burning time per piece, as a share. */
  burnChange: z.number(),
  wireId: z.string(),
});

/** An offer with figures still in it; packing turns them into JSON. */
export function offerFields(offer: Offer): object {
  return {
    quantity: offer.quantity,
    currency: offer.currency,
    unitPrice: offer.unitPrice,
    computedUnitPrice: offer.computedUnitPrice,
    orderValue: offer.orderValue,
    lossRisk: offer.lossRisk,
    expectedUnitCost: offer.expectedUnitCost,
    unitCost: offer.costs.perPiece,
    totalCost: offer.costs.total,
    lines: offer.costs.lines,
    atRisk: offer.atRisk,
  };
}

export function driverFields({ id, says, unitPrice, saving, burnChange, wireId }: PriceDriver): object {
  return { id, says, unitPrice, saving, burnChange, wireId };
}
