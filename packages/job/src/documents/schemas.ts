import { z } from 'zod';
import { jobFileSchema } from '../job-file.js';
import { technologyMapSchema } from '../technology-map.js';
import { bookCompareDocumentSchema } from './book-compare-document.js';
import { bookEstimateDocumentSchema } from './book-estimate-document.js';
import { bookImportDocumentSchema } from './book-import-document.js';
import { learnBurnsDocumentSchema } from './learn-burns-document.js';
import { learnDocumentSchema } from './learn-document.js';
import { planDocumentSchema } from './plan-document.js';
import { priceDocumentSchema } from './price-document.js';
import { proofDocumentSchema } from './proof-document.js';
import { readDocumentSchema } from './read-document.js';
import { whyDocumentSchema } from './why-document.js';

const SCHEMAS: Readonly<Record<string, z.ZodType>> = {
  'book-compare': bookCompareDocumentSchema,
  'book-estimate': bookEstimateDocumentSchema,
  'book-import': bookImportDocumentSchema,
  job: jobFileSchema,
  learn: learnDocumentSchema,
  'learn-burns': learnBurnsDocumentSchema,
  plan: planDocumentSchema,
  price: priceDocumentSchema,
  prove: proofDocumentSchema,
  read: readDocumentSchema,
  'technology-map': technologyMapSchema,
  why: whyDocumentSchema,
};

/** JSON Schema (draft 2020-12) of everything the command line reads and prints, by name; kept in docs/schema. */
export function jsonSchemas(): Readonly<Record<string, object>> {
  return Object.fromEntries(
    Object.entries(SCHEMAS).map(([name, schema]) => [name, z.toJSONSchema(schema, { target: 'draft-2020-12' })]),
  );
}
