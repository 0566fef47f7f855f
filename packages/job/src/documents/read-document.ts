import { lengthMm, type Segment, startPoint } from '@gapwright/geometry';
import { z } from 'zod';
import { type DrawingRun, enclosedAreaMm2 } from '../read-drawing.js';
import { boxSchema, documentName, placeSchema, pointSchema, problemSchema } from './common-schema.js';

const segmentSchema = z.union([
  z.strictObject({ kind: z.literal('line'), from: pointSchema, to: pointSchema }),
  z.strictObject({
    kind: z.literal('arc'),
    from: pointSchema,
    to: pointSchema,
    centre: pointSchema,
    radiusMm: z.number(),
    /** Signed, counter-clockwise positive, at most half a turn. */
    sweepDeg: z.number(),
  }),
]);

/** `gapwright read FILE --json`. Lengths in mm whatever the units of the drawing. */
export const readDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-read-1'),
    file: z.string(),
    version: z.string().nullable(),
    /** Units the drawing was read in. */
    units: z.string(),
    /** True when nobody said so: neither the file nor the user. */
    unitsAssumed: z.boolean(),
    boxMm: boxSchema.nullable(),
    contours: z.array(
      z.strictObject({
        closed: z.boolean(),
        layer: z.string(),
        lengthMm: z.number(),
        /** Enclosed area; 0 for an open contour. */
        areaMm2: z.number(),
        /** `outline`, `opening` or `open`: outside or inside of material, from how the contours lie in each other. */
        role: z.enum(['outline', 'opening', 'open']),
        /** Smallest inside radius on the wire's side; null when there is none. Sharp corners are counted apart. */
        minInsideRadiusMm: z.number().nullable(),
        sharpInsideCorners: z.int(),
        /** Largest distance of fitted arcs from the drawn curve; 0 for lines and arcs. */
        fittedDeviationMm: z.number(),
        start: pointSchema.nullable(),
        segments: z.array(segmentSchema),
      }),
    ),
    /** What was changed to make contours: `sizeMm` is the width of a closed gap, or the length of what was removed. */
    repairs: z.array(
      z.strictObject({
        kind: z.enum(['gap closed', 'duplicate removed', 'overlap trimmed', 'zero length dropped']),
        sizeMm: z.number(),
        at: placeSchema,
      }),
    ),
    skipped: z.array(z.strictObject({ kind: z.string(), layer: z.string(), reason: z.string(), count: z.int() })),
    largestFitDeviationMm: z.number(),
    problems: z.array(problemSchema),
  })
  .meta({ title: 'gapwright read --json' });

export type ReadDocument = z.infer<typeof readDocumentSchema>;

const DEG_PER_RAD = 180 / Math.PI;

function segmentJson(s: Segment): z.infer<typeof segmentSchema> {
  if (s.kind === 'line') return { kind: 'line', from: s.from, to: s.to };
  const { from, to, centre, radiusMm, sweepRad } = s;
  return { kind: 'arc', from, to, centre, radiusMm, sweepDeg: sweepRad * DEG_PER_RAD };
}

/** What was read, as plain JSON data. */
export function readDocument(run: DrawingRun, file: string): ReadDocument {
  const { drawing, profile } = run;
  return {
    document: 'gapwright-read-1',
    file,
    version: drawing?.version ?? null,
    units: profile?.units ?? 'unknown',
    unitsAssumed: profile?.unitsAssumed ?? false,
    boxMm: profile?.boxMm ?? null,
    contours: run.contours.map((c) => ({
      closed: c.contour.isClosed,
      layer: c.layer,
      lengthMm: lengthMm(c.contour),
      areaMm2: enclosedAreaMm2(c.contour),
      role: c.role,
      minInsideRadiusMm: c.minInsideRadiusMm,
      sharpInsideCorners: c.sharpInsideCorners,
      fittedDeviationMm: c.fittedDeviationMm,
      start: startPoint(c.contour) ?? null,
      segments: c.contour.segments.map(segmentJson),
    })),
    repairs: (profile?.repairs ?? []).map(({ kind, at, sizeMm, layer }) => ({
      kind,
      sizeMm,
      at: { xMm: at.x, yMm: at.y, layer },
    })),
    skipped: (profile?.skipped ?? drawing?.skipped ?? []).map(({ kind, layer, reason, count }) => ({
      kind,
      layer,
      reason,
      count,
    })),
    largestFitDeviationMm: profile?.largestFitDeviationMm ?? 0,
    problems: [...run.problems],
  };
}
