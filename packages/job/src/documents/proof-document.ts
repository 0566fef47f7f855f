import type { ProofResult } from '@gapwright/proof';
import { z } from 'zod';
import { documentName, pointSchema, problemSchema } from './common-schema.js';

/** The proof of one program, as every document shows it. */
export const proofShape = {
  verdict: z.enum(['pass', 'fail']),
  /** Deepest place where the wire reaches into the part, mm; null when nothing could be proved. */
  maxUndercutMm: z.number().nullable(),
  /** Highest place where material is left on the part, mm; uncut places count as 1 mm. Null as above. */
  maxRestMm: z.number().nullable(),
  erodedAreaMm2: z.number(),
  burnMin: z.number(),
  features: z.array(
    z.strictObject({
      id: z.string(),
      undercutMm: z.number(),
      undercutAt: pointSchema.nullable(),
      restMm: z.number(),
      restAt: pointSchema.nullable(),
      passes: z.array(
        z.strictObject({
          pass: z.int(),
          stockMinMm: z.number().nullable(),
          stockMaxMm: z.number().nullable(),
          covered: z.number(),
        }),
      ),
    }),
  ),
  slugs: z.array(z.strictObject({ feature: z.string(), freedAtLine: z.int(), planned: z.boolean() })),
  findings: z.array(problemSchema),
};

const proofSchema = z.strictObject(proofShape);

/** What a document says when nothing could be proved: the program has not passed, and no sizes are known. */
export const UNPROVED = {
  verdict: 'fail',
  maxUndercutMm: null,
  maxRestMm: null,
  erodedAreaMm2: 0,
  burnMin: 0,
  features: [],
  slugs: [],
  findings: [],
} satisfies z.infer<typeof proofSchema>;

/** `gapwright prove PROGRAM --against FILE --job JOB --json`. */
export const proofDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-proof-1'),
    program: z.string(),
    drawing: z.string(),
    ...proofShape,
    problems: z.array(problemSchema),
  })
  .meta({ title: 'gapwright prove --json' });

export type ProofDocument = z.infer<typeof proofDocumentSchema>;

/** A proof without its drawing aids (error band, time line), as plain JSON data. */
export function proofJson(proof: ProofResult): z.infer<typeof proofSchema> {
  return {
    verdict: proof.verdict,
    maxUndercutMm: proof.maxUndercutMm,
    maxRestMm: proof.maxRestMm,
    erodedAreaMm2: proof.erodedAreaMm2,
    burnMin: proof.timeLine.at(-1)?.burnMin ?? 0,
    features: proof.features.map(({ id, undercutMm, undercutAt, restMm, restAt, passes }) => ({
      id,
      undercutMm,
      undercutAt,
      restMm,
      restAt,
      passes: passes.map(({ pass, stockMinMm, stockMaxMm, covered }) => ({ pass, stockMinMm, stockMaxMm, covered })),
    })),
    slugs: proof.slugs.map(({ feature, freedAtLine, planned }) => ({ feature, freedAtLine, planned })),
    findings: [...proof.findings],
  };
}
