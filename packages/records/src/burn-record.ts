import { z } from 'zod';

/** What really happened in one burn, and what was expected of it. */
export const burnContentSchema = z.strictObject({
  /** Day it was finished. */
  day: z.iso.date(),
  material: z.string().min(1).max(80),
  machine: z.string().min(1).max(80),
  wire: z.string().min(1).max(80),
  heightMm: z.number().positive(),
  level: z.int().positive(),
  predictedMin: z.number().positive(),
  actualMin: z.number().positive(),
  /** Job and operation it belongs to, when known. */
  jobId: z.uuid().nullable(),
  operation: z.int().positive().nullable(),
  note: z.string().max(300),
});
export type BurnContent = z.infer<typeof burnContentSchema>;

/** An entry of the burn log. Entries are never changed: a correction replaces an entry, a strike takes it out of use. */
export const burnRecordSchema = z.strictObject({
  id: z.uuid(),
  madeAt: z.iso.datetime(),
  madeBy: z.string().min(1).max(80),
  /** The entry this one corrects or strikes. */
  replaces: z.uuid().nullable(),
  /** Null strikes the entry named in `replaces`. */
  content: burnContentSchema.nullable(),
});
export type BurnRecord = z.infer<typeof burnRecordSchema>;

export const keptBurnRecordSchema = burnRecordSchema.extend({
  sequence: z.int().positive(),
  /** False when a later entry corrects or strikes this one. */
  isInUse: z.boolean(),
});
export type KeptBurnRecord = z.infer<typeof keptBurnRecordSchema>;
