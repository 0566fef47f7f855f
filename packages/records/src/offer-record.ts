import { z } from 'zod';
import { fileRefSchema, sha256Schema } from './revision.js';

/**
 * An offer as it went to the customer: everything needed to open the plan again exactly as it was offered, whatever
 * becomes of the job, the shop book or the program. Never changed or removed.
 */
export const offerRecordSchema = z.strictObject({
  id: z.uuid(),
  jobId: z.uuid(),
  revisionId: z.uuid(),
  madeAt: z.iso.datetime(),
  madeBy: z.string().min(1).max(80),
  quantity: z.int().positive(),
  unitPrice: z.number().positive(),
  currency: z.string(),
  lossRisk: z.number().min(0).max(1),
  /** Day promised to the customer, `YYYY-MM-DD`; null when none was. */
  promisedDay: z.iso.date().nullable(),
  bookSha256: sha256Schema,
  postSha256: sha256Schema,
  drawing: fileRefSchema,
  /** The whole answer of the job sheet as JSON, kept as a file. */
  sheet: fileRefSchema,
  /** Papers and programs as they were handed over. */
  papers: z.array(fileRefSchema),
});
export type OfferRecord = z.infer<typeof offerRecordSchema>;
