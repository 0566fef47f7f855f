import { z } from 'zod';
import { bookVersionSchema, keptBookVersionSchema } from './book-record.js';
import { keptBurnRecordSchema } from './burn-record.js';
import { offerRecordSchema } from './offer-record.js';
import { jobSummarySchema, keptRevisionSchema, sha256Schema } from './revision.js';

/** `GET /api/health`. */
export const healthSchema = z.strictObject({
  program: z.literal('gapwright'),
  version: z.string(),
  /** Names the store, so that a page notices when it talks to another one. */
  storeId: z.uuid(),
  sequence: z.int().min(0),
  /** Nobody signs in yet, so the server answers this computer only. */
  access: z.literal('this computer only'),
});
export type Health = z.infer<typeof healthSchema>;

/** `GET /api/changes?after=SEQUENCE`: everything kept since, oldest first; the page keeps a copy. */
export const changesSchema = z.strictObject({
  storeId: z.uuid(),
  /** Ask again after this one. */
  sequence: z.int().min(0),
  /** Jobs with a new head, aside or offer. */
  jobs: z.array(jobSummarySchema),
  offers: z.array(offerRecordSchema),
  books: z.array(keptBookVersionSchema),
  burns: z.array(keptBurnRecordSchema),
  /** True when there is more than one answer holds. */
  more: z.boolean(),
});
export type Changes = z.infer<typeof changesSchema>;

/**
 * `GET /api/changes/stream`: server-sent events, one now and one whenever something was kept, each with this as its
 * data. A reader then asks `GET /api/changes`.
 */
export const changeNoticeSchema = z.strictObject({ storeId: z.uuid(), sequence: z.int().min(0) });
export type ChangeNotice = z.infer<typeof changeNoticeSchema>;

/** `PUT /api/files/:sha256` (body: the bytes, `application/octet-stream`). */
export const savedFileSchema = z.strictObject({ sha256: sha256Schema, byteLength: z.int().min(0) });

/** Largest file the server takes, bytes. */
export const MOST_FILE_BYTES = 64 * 1024 * 1024;

/** `GET /api/jobs/:jobId`: the whole history of a job, newest first. */
export const jobHistorySchema = z.strictObject({
  summary: jobSummarySchema,
  revisions: z.array(keptRevisionSchema),
  offers: z.array(offerRecordSchema),
});
export type JobHistory = z.infer<typeof jobHistorySchema>;

/** `PUT /api/revisions/:id`. Answered only after the revision is on disk. `aside` when the job had moved on meanwhile. */
export const savedRevisionSchema = z.strictObject({ saved: keptRevisionSchema, summary: jobSummarySchema });
export type SavedRevision = z.infer<typeof savedRevisionSchema>;

/** `PUT /api/burns/:id`. */
export const savedBurnSchema = z.strictObject({ saved: keptBurnRecordSchema });

/** `PUT /api/books/:kind/:sha256`: a version with its JSON text; the hash in the path is that of the text in UTF-8. */
export const sentBookSchema = bookVersionSchema.omit({ sha256: true }).extend({ text: z.string() });
/** `GET /api/books/:kind`: all versions, newest first. Their texts are files. */
export const bookVersionsSchema = z.strictObject({ versions: z.array(keptBookVersionSchema) });
export const savedBookSchema = z.strictObject({ saved: keptBookVersionSchema });

/** The papers the server can make. */
export const PAPER_KINDS = ['quotation', 'set-up-sheet', 'route-card', 'letter'] as const;

/** `POST /api/papers`: one paper for a job as it stands, not kept. The drawing must have been sent as a file before. */
export const paperRequestSchema = z.strictObject({
  kind: z.enum(PAPER_KINDS),
  /** `svg` gives `{ pages: string[] }` for a preview, `pdf` the file itself. */
  form: z.enum(['pdf', 'svg']),
  /** Needed by `set-up-sheet`. */
  operation: z.int().positive().nullable(),
  content: z.record(z.string(), z.unknown()),
  drawing: z.strictObject({ sha256: sha256Schema, fileName: z.string().min(1).max(255) }),
  bookSha256: sha256Schema,
  postSha256: sha256Schema,
  /** Day on the paper. */
  day: z.iso.date(),
  /** Ids of the changes a `letter` asks for (see the price study); empty: all that save something. */
  asks: z.array(z.string().max(40)).max(20),
});
export type PaperRequest = z.infer<typeof paperRequestSchema>;
export const paperPagesSchema = z.strictObject({ pages: z.array(z.string()) });

/** `POST /api/offers`: runs the job, makes and keeps its papers, and keeps all of it as offered. */
export const offerRequestSchema = z.strictObject({
  id: z.uuid(),
  revisionId: z.uuid(),
  bookSha256: sha256Schema,
  postSha256: sha256Schema,
  day: z.iso.date(),
  promisedDay: z.iso.date().nullable(),
  madeAt: z.iso.datetime(),
  madeBy: z.string().min(1).max(80),
});
export type OfferRequest = z.infer<typeof offerRequestSchema>;
export const savedOfferSchema = z.strictObject({ offer: offerRecordSchema });

/** Every error of the server: one clear sentence with a stable code. */
export const apiErrorSchema = z.strictObject({
  error: z.strictObject({
    code: z.string(),
    message: z.string(),
    /** Problems of the drawing, job or book behind it, when there are any. */
    problems: z.array(z.unknown()).optional(),
  }),
});
export type ApiError = z.infer<typeof apiErrorSchema>;
