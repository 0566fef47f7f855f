import type { Problem } from '@gapwright/base';
import type { TableRegression } from '@gapwright/process';
import { z } from 'zod';
import { documentName, problemSchema } from './common-schema.js';

const scoreSchema = z.strictObject({ mae: z.number(), crps: z.number() }).meta({ id: 'score' });
const coverageSchema = z.strictObject({ '80': z.number(), '95': z.number() }).meta({ id: 'coverage' });

/** `gapwright learn FILE.csv --response COLUMN --json`. Errors in the unit of the response, leave-one-out. */
export const learnDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-learn-1'),
    file: z.string(),
    response: z.string(),
    /** Numeric inputs in use. */
    inputs: z.array(z.string()),
    /** Text columns in use as groups. */
    groups: z.array(z.string()),
    rows: z.strictObject({ inFile: z.int(), used: z.int() }),
    /** Unit of the forecast: logarithm of the response or its plain value. */
    scale: z.enum(['log', 'identity']),
    loo: scoreSchema,
    baselines: z.strictObject({ mean: scoreSchema, logLinear: scoreSchema }),
    coverage: coverageSchema,
    model: z.string(),
    /** Share of each feature map in the forecast. */
    shares: z.array(z.strictObject({ name: z.string(), share: z.number() })),
    /** Scatter of repeated settings; null when none is repeated. */
    noiseFloor: z
      .strictObject({
        settings: z.int(),
        freedom: z.int(),
        sd: z.number(),
        crpsFloor: z.number(),
        maeFloor: z.number(),
      })
      .nullable(),
    /** One entry per used row: observed, forecast from the other rows, PIT, intervals. */
    forecasts: z.array(
      z.strictObject({
        observed: z.number(),
        median: z.number(),
        crps: z.number(),
        pit: z.number(),
        interval80: z.strictObject({ low: z.number(), high: z.number() }),
        interval95: z.strictObject({ low: z.number(), high: z.number() }),
      }),
    ),
    /** The messages of `problems`. */
    warnings: z.array(z.string()),
    problems: z.array(problemSchema),
  })
  .meta({ title: 'gapwright learn --response --json' });

export type LearnDocument = z.infer<typeof learnDocumentSchema>;

export function learnDocument(
  learnt: TableRegression,
  problems: readonly Problem[],
  file: string,
  rowsInFile: number,
): LearnDocument {
  const { prepared, regression, replicates, model } = learnt;
  return {
    document: 'gapwright-learn-1',
    file,
    response: prepared.responseName,
    inputs: [...prepared.numericNames],
    groups: [...prepared.groupNames],
    rows: { inFile: rowsInFile, used: prepared.rows.length },
    scale: regression.scale,
    loo: regression.loo,
    baselines: regression.baselines,
    coverage: regression.coverage,
    model,
    shares: [...regression.shares],
    noiseFloor: replicates,
    forecasts: [...regression.rows],
    warnings: problems.map((p) => p.message),
    problems: [...problems],
  };
}
