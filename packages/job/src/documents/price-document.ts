import { packFigures, type WorkingTable } from '@gapwright/base';
import { z } from 'zod';
import type { JobRun, PriceStudy } from '../run-job.js';
import { documentName, problemSchema, workingTableShape } from './common-schema.js';
import { driverFields, driverSchema, offerFields, offerSchema } from './offer-document.js';

/** `gapwright price JOB.json --json`. */
export const priceDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-price-1'),
    file: z.string(),
    offer: offerSchema.nullable(),
    /** The same job at other quantities, ascending. */
    table: z.array(offerSchema),
    /** Changes of the requirements, each planned again; largest saving first. */
    drivers: z.array(driverSchema),
    problems: z.array(problemSchema),
    ...workingTableShape,
  })
  .meta({ title: 'gapwright price --json' });

export type PriceDocument = Omit<z.infer<typeof priceDocumentSchema>, keyof WorkingTable> & WorkingTable;

/** A priced job as plain JSON data, with the working of every figure; `idPrefix` begins the ids of the figures. */
export function priceDocument(run: JobRun, study: PriceStudy, file: string, idPrefix?: string): PriceDocument {
  const document = {
    document: 'gapwright-price-1',
    file,
    offer: run.offer === null ? null : offerFields(run.offer),
    table: study.table.map(offerFields),
    drivers: study.drivers.map(driverFields),
    problems: run.problems,
  };
  const { packed, table } = packFigures(document, idPrefix);
  return { ...(packed as object), ...table } as PriceDocument;
}
