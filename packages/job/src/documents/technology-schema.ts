import { TECHNOLOGY_QUANTITIES, type TechnologyQuantity } from '@gapwright/process';
import { z } from 'zod';

const values = z.partialRecord(
  z.enum(Object.keys(TECHNOLOGY_QUANTITIES) as [TechnologyQuantity, ...TechnologyQuantity[]]),
  z.number(),
);

/** One point of a technology book with its source written out; the unit of a value is in its name. */
export const technologyPointSchema = z
  .strictObject({
    id: z.string(),
    process: z.string(),
    material: z.string(),
    tool: z.string(),
    conditions: values,
    results: values,
    source: z.strictObject({
      id: z.string(),
      title: z.string(),
      standing: z.string(),
      where: z.string().optional(),
    }),
    note: z.string().optional(),
  })
  .meta({ id: 'technologyPoint' });

export const technologyValuesSchema = values;

export const pointChangeSchema = z
  .strictObject({ kind: z.enum(['added', 'removed', 'changed']), id: z.string(), says: z.string() })
  .meta({ id: 'pointChange' });
