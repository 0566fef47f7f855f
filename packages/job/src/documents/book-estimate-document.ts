import { type Figure, type FigureJson, type Problem, packFigures, type WorkingTable } from '@gapwright/base';
import type { QuantityValues, TechnologyBook, TechnologyPoint } from '@gapwright/process';
import { z } from 'zod';
import { documentName, figureSchema, problemSchema, workingTableShape } from './common-schema.js';
import { technologyPointSchema, technologyValuesSchema } from './technology-schema.js';

/** `gapwright book estimate BOOK.json --material ID --response WORD --at … --json`. */
export const bookEstimateDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-book-estimate-1'),
    file: z.string(),
    book: z.strictObject({ name: z.string(), version: z.string() }),
    material: z.string(),
    /** Null when the book has no points to tell. */
    process: z.string().nullable(),
    tool: z.string().nullable(),
    /** The result estimated; its unit is in its name. */
    response: z.string().nullable(),
    conditions: technologyValuesSchema,
    /** The next burn under these conditions; null when refused. */
    estimate: figureSchema.nullable(),
    /** Energy to melt that the estimate is held against; null when the shop book does not know the material. */
    meltEnergy: figureSchema.nullable(),
    /** Nearest points first. */
    nearest: z.array(technologyPointSchema),
    problems: z.array(problemSchema),
    ...workingTableShape,
  })
  .meta({ title: 'gapwright book estimate --json' });

interface Estimate<F> {
  readonly file: string;
  readonly material: string;
  readonly process: string | null;
  readonly tool: string | null;
  readonly response: string | null;
  readonly conditions: QuantityValues;
  readonly estimate: F | null;
  readonly meltEnergy: F | null;
  readonly nearest: readonly TechnologyPoint[];
  readonly problems: readonly Problem[];
}

export interface BookEstimateDocument extends Estimate<FigureJson>, WorkingTable {
  readonly document: 'gapwright-book-estimate-1';
  readonly book: { readonly name: string; readonly version: string };
}

/** An estimate as plain JSON data, with the working of its figures. */
export function bookEstimateDocument(book: TechnologyBook, estimate: Estimate<Figure>): BookEstimateDocument {
  const { packed, table } = packFigures({
    document: 'gapwright-book-estimate-1',
    book: { name: book.name, version: book.version },
    ...estimate,
  });
  return { ...(packed as object), ...table } as BookEstimateDocument;
}
