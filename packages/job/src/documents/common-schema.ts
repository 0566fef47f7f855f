import { z } from 'zod';

/** A figure: value, unit, 80 % interval and reasons; `id` leads to its whole working in `figures`. */
export const figureSchema = z
  .strictObject({
    id: z.string(),
    value: z.number(),
    unit: z.string(),
    low: z.number(),
    high: z.number(),
    reasons: z.array(z.string()).min(1),
  })
  .meta({ id: 'figure' });

export const placeSchema = z
  .strictObject({
    xMm: z.number().optional(),
    yMm: z.number().optional(),
    file: z.string().optional(),
    line: z.int().optional(),
    column: z.int().optional(),
    layer: z.string().optional(),
    handle: z.string().optional(),
    feature: z.string().optional(),
    pass: z.int().optional(),
    field: z.string().optional(),
  })
  .meta({ id: 'place' });

export const problemSchema = z
  .strictObject({
    code: z.string(),
    severity: z.enum(['stop', 'warn', 'info']),
    message: z.string(),
    at: placeSchema.nullable(),
  })
  .meta({ id: 'problem' });

export const pointSchema = z.strictObject({ x: z.number(), y: z.number() }).meta({ id: 'point' });

export const boxSchema = z
  .strictObject({ minX: z.number(), minY: z.number(), maxX: z.number(), maxY: z.number() })
  .meta({ id: 'box' });

const sourceSchema = z.strictObject({
  id: z.string(),
  title: z.string(),
  standing: z.enum(['published', 'from memory', 'common practice', 'computed', 'shop', 'job']),
  where: z.string().optional(),
});

const workingSchema = z.strictObject({
  value: z.number(),
  unit: z.string(),
  low: z.number(),
  high: z.number(),
  says: z.string(),
  law: z.string().optional(),
  formula: z.string().optional(),
  /** Input name to figure id. */
  inputs: z.record(z.string(), z.string()).optional(),
  source: z.string(),
  /** How much the value moves for one standard deviation of each cause. */
  doubts: z.record(z.string(), z.number()).optional(),
  outsideRange: z.array(z.string()).optional(),
});

/** The figure table and the sources it names; part of every document that holds figures. */
export const workingTableShape = {
  figures: z.record(z.string(), workingSchema),
  sources: z.record(z.string(), sourceSchema),
};

/** Which document this is; the number grows when a field changes its meaning or goes away. */
export const documentName = <N extends string>(name: N) => z.literal(name);
