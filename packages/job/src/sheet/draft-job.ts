import { z } from 'zod';
import { jobFileSchema } from '../job-file.js';

/**
 * A job on its way: the fields of a job file, each still open until it is answered, and what the planner notes around
 * it. The drawing is kept beside it as a file, so its name is not here.
 */
export const draftJobSchema = jobFileSchema
  .omit({ gapwrightJob: true, drawing: true, setUps: true })
  .partial()
  .extend({
    /** Day the customer wants the parts, `YYYY-MM-DD`. */
    wantedDay: z.iso.date().optional(),
    /** Day promised by the planner. */
    promisedDay: z.iso.date().optional(),
    /** The enquiry as it came in, pasted. */
    enquiryText: z.string().max(20_000).optional(),
    notes: z.string().max(20_000).optional(),
  });

export type DraftJob = z.infer<typeof draftJobSchema>;
