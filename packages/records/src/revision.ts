import { z } from 'zod';

/** What a job waits for; the slips on the desk are grouped by it. */
export const JOB_STAGES = [
  'to read',
  'to price',
  'with the customer',
  'to release',
  'burning',
  'to inspect',
  'closed',
] as const;
export const jobStageSchema = z.enum(JOB_STAGES);
export type JobStage = z.infer<typeof jobStageSchema>;

export const sha256Schema = z.string().regex(/^[0-9a-f]{64}$/, 'must be 64 hexadecimal digits');

/** A file kept by its content. */
export const fileRefSchema = z.strictObject({
  sha256: sha256Schema,
  fileName: z.string().min(1).max(255),
  byteLength: z.int().min(0),
});
export type FileRef = z.infer<typeof fileRefSchema>;

/**
 * One state of a job, whole. Revisions are never changed or removed: an edit makes a new one on top of the one it was
 * made from. A revision with two parents settles a conflict.
 */
export const revisionSchema = z.strictObject({
  /** Made by whoever edits, so that sending it twice keeps it once. */
  id: z.uuid(),
  jobId: z.uuid(),
  parents: z.array(z.uuid()).max(2),
  /** ISO 8601, UTC, by the clock of the device it was made on. */
  madeAt: z.iso.datetime(),
  /** Until people sign in: the name of the device. */
  madeBy: z.string().min(1).max(80),
  /** What changed, e.g. `Wire set to B20`. */
  says: z.string().max(300),
  stage: jobStageSchema,
  /** The job as far as it is known; see `draftJobSchema` in the job room. */
  content: z.record(z.string(), z.unknown()),
  drawing: fileRefSchema.nullable(),
  /** Version of the shop book the planner worked with. */
  bookSha256: sha256Schema.nullable(),
});
export type Revision = z.infer<typeof revisionSchema>;

/** `head`: the job as it stands. `past`: another was made on it. `aside`: made beside the head on another device, waits to be settled. */
export const standingSchema = z.enum(['head', 'past', 'aside']);
export type Standing = z.infer<typeof standingSchema>;

/** A revision as the store keeps it. */
export const keptRevisionSchema = revisionSchema.extend({
  /** Counts everything the store ever took, so that a reader can ask for what is new. */
  sequence: z.int().positive(),
  standing: standingSchema,
});
export type KeptRevision = z.infer<typeof keptRevisionSchema>;

/** A job as the desk lists it. */
export const jobSummarySchema = z.strictObject({
  jobId: z.uuid(),
  head: keptRevisionSchema,
  /** Made beside the head and not settled yet. */
  asides: z.array(keptRevisionSchema),
  revisionCount: z.int().positive(),
  offerCount: z.int().min(0),
});
export type JobSummary = z.infer<typeof jobSummarySchema>;
