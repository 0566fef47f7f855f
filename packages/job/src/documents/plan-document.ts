import { packFigures, type WorkingTable } from '@gapwright/base';
import type { Operation, WireFeature } from '@gapwright/planning';
import { z } from 'zod';
import type { JobRun } from '../run-job.js';
import {
  boxSchema,
  documentName,
  figureSchema,
  pointSchema,
  problemSchema,
  workingTableShape,
} from './common-schema.js';
import { offerFields, offerSchema } from './offer-document.js';
import { proofJson, proofShape } from './proof-document.js';

const touchSchema = z.strictObject({
  id: z.string(),
  kind: z.enum(['set-up', 'slug', 'part', 'unload', 'check']),
  says: z.string(),
  min: figureSchema,
});

const passSchema = z.strictObject({
  pass: z.int(),
  level: z.int(),
  levelName: z.string(),
  register: z.int(),
  gapMm: figureSchema,
  stockMm: figureSchema,
  offsetMm: figureSchema,
  feedMmPerMin: figureSchema,
  pathMm: figureSchema,
  burnMin: figureSchema,
  raUm: figureSchema,
  recastUm: figureSchema,
});

const startHoleSchema = z.strictObject({
  id: z.string(),
  at: pointSchema,
  diameterMm: z.number(),
  features: z.array(z.string()),
  fromEdge: z.boolean(),
});

const slugSchema = z.strictObject({
  feature: z.string(),
  piece: z.enum(['slug', 'part']),
  massG: figureSchema,
  handling: z.enum(['falls free', 'tab', 'tab and support']),
  tabMm: figureSchema.nullable(),
  tabFrom: pointSchema.nullable(),
  tabTo: pointSchema.nullable(),
});

const operationBase = {
  number: z.int(),
  title: z.string(),
  machineId: z.string(),
  runs: z.int(),
  machineMin: figureSchema,
  attendedMin: figureSchema,
  touches: z.array(touchSchema),
  cautions: z.array(z.string()),
};

const operationSchema = z.discriminatedUnion('process', [
  z.strictObject({
    process: z.literal('wire'),
    ...operationBase,
    wireId: z.string(),
    wireDiameterMm: z.number(),
    stack: z.int(),
    burnHeightMm: z.number(),
    passes: z.array(passSchema).min(1),
    startHoles: z.array(startHoleSchema),
    slugs: z.array(slugSchema),
    keepOuts: z.array(z.strictObject({ id: z.string(), label: z.string(), box: boxSchema })),
    plate: boxSchema,
    agreedCornerRadiusMm: z.number(),
    threadings: z.int(),
    wireUseM: figureSchema,
    wireUseKg: figureSchema,
    unattendedMin: figureSchema,
    program: z.string().nullable(),
  }),
  z.strictObject({
    process: z.literal('drill'),
    ...operationBase,
    passes: z.array(passSchema).max(0),
    holes: z.array(startHoleSchema),
  }),
  z.strictObject({ process: z.literal('other'), ...operationBase, passes: z.array(passSchema).max(0) }),
]);

const featureSchema = z.strictObject({
  id: z.string(),
  kind: z.enum(['profile', 'hole', 'slot']),
  role: z.enum(['outline', 'opening', 'open']),
  layer: z.string().nullable(),
  lengthMm: z.number(),
  areaMm2: z.number(),
  minInsideRadiusMm: z.number().nullable(),
  minInsideRadiusAt: pointSchema.nullable(),
  sharpInsideCorners: z.array(pointSchema),
  narrowestMm: z.number().nullable(),
  narrowestAt: pointSchema.nullable(),
  partOf: z.string().nullable(),
});

const wireOptionSchema = z.strictObject({
  wireId: z.string(),
  machineId: z.string(),
  fits: z.boolean(),
  burnMin: figureSchema.nullable(),
  comparisonCost: figureSchema.nullable(),
  marks: z.array(z.enum(['cheapest', 'fastest', 'chosen', 'overruled'])),
  problems: z.array(problemSchema),
});

/** `gapwright plan FILE --json`. Fields are null or empty when a stop problem forbids them. */
export const planDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-plan-1'),
    file: z.string(),
    units: z.string(),
    unitsAssumed: z.boolean(),
    bookVersion: z.string().nullable(),
    request: z.record(z.string(), z.unknown()),
    features: z.array(featureSchema),
    wireOptions: z.array(wireOptionSchema),
    operations: z.array(operationSchema),
    totals: z
      .strictObject({
        burnMin: figureSchema,
        machineMin: figureSchema,
        attendedMin: figureSchema,
        touches: figureSchema,
      })
      .nullable(),
    offer: offerSchema.nullable(),
    proof: z.strictObject(proofShape).nullable(),
    /** Program text by name. */
    programs: z.record(z.string(), z.string()),
    problems: z.array(problemSchema),
    ...workingTableShape,
  })
  .meta({ title: 'gapwright plan --json' });

export type PlanDocument = Omit<z.infer<typeof planDocumentSchema>, keyof WorkingTable> & WorkingTable;

/** A job run as plain JSON data, with the working of every figure. */
export function planDocument(run: JobRun, file: string): PlanDocument {
  const { plan, offer } = run;
  const programOf = (operation: number): string | null =>
    run.programs.find((p) => p.operation === operation)?.fileName ?? null;
  const { packed, table } = packFigures({
    document: 'gapwright-plan-1',
    file,
    units: run.drawing.profile?.units ?? 'unknown',
    unitsAssumed: run.drawing.profile?.unitsAssumed ?? false,
    bookVersion: plan?.bookVersion ?? null,
    request: plan?.request ?? {},
    features: (plan?.features ?? []).map(featureFields),
    wireOptions: plan?.wireOptions ?? [],
    operations: (plan?.operations ?? []).map((op) => operationFields(op, programOf(op.number))),
    totals: plan?.totals ?? null,
    offer: offer === null ? null : offerFields(offer),
    proof: worstProof(run),
    programs: Object.fromEntries(run.programs.map((p) => [p.fileName, p.text])),
    problems: run.problems,
  });
  return { ...(packed as object), ...table } as PlanDocument;
}

/** The proof that matters: the failing one if any, else that of the first program. */
function worstProof(run: JobRun): object | null {
  const worst = run.programs.find((p) => p.proof.verdict === 'fail') ?? run.programs[0];
  return worst === undefined ? null : proofJson(worst.proof);
}

/** Everything but the contour and what follows from the kind; the drawing is in `gapwright read --json`. */
function featureFields(feature: WireFeature): object {
  const { contour: _contour, partSide: _partSide, layer, ...rest } = feature;
  return { ...rest, layer: layer ?? null };
}

/** Steps stay out: the program text says the same. */
function operationFields(operation: Operation, program: string | null): object {
  if (operation.process !== 'wire') return operation;
  const { steps: _steps, ...rest } = operation;
  return { ...rest, program };
}
