import { z } from 'zod';
import type { Why } from '../why.js';
import { documentName } from './common-schema.js';

const sourceSchema = z.strictObject({
  id: z.string(),
  title: z.string(),
  standing: z.string(),
  where: z.string().optional(),
});

const nodeSchema: z.ZodType = z
  .strictObject({
    id: z.string(),
    name: z.string(),
    value: z.number(),
    unit: z.string(),
    low: z.number(),
    high: z.number(),
    says: z.string(),
    formula: z.string().nullable(),
    source: sourceSchema,
    outsideRange: z.array(z.string()),
    get inputs() {
      return z.array(nodeSchema);
    },
    /** True when the figure was opened already; its inputs are left out here. */
    seenAbove: z.boolean(),
  })
  .meta({ id: 'working' });

/** `gapwright why FIGURE-PATH JOB.json --json`. */
export const whyDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-why-1'),
    path: z.string(),
    working: nodeSchema,
    /** Causes of doubt with their share of the variance, largest first. */
    doubts: z.array(z.strictObject({ cause: z.string(), share: z.number() })),
  })
  .meta({ title: 'gapwright why --json' });

export function whyDocument(why: Why): object {
  return { document: 'gapwright-why-1', ...why };
}
