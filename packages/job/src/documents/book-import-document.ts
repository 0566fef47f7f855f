import type { Problem } from '@gapwright/base';
import type { MergedBook, TechnologyPoint } from '@gapwright/process';
import { z } from 'zod';
import { documentName, problemSchema } from './common-schema.js';
import { pointChangeSchema, technologyPointSchema } from './technology-schema.js';

/** `gapwright book import FILE --map MAP.json --json`. */
export const bookImportDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-book-import-1'),
    file: z.string(),
    sheet: z.string().nullable(),
    map: z.string(),
    /** Energy to melt that results are held against, J/mm3; null when none is known. */
    meltEnergyJPerMm3: z.number().nullable(),
    /** What was taken from the table; empty when a finding stops the import. */
    points: z.array(technologyPointSchema),
    /** The book after the import; null when a finding stops it. */
    book: z
      .strictObject({
        name: z.string(),
        /** Null for a new book. */
        fromVersion: z.string().nullable(),
        toVersion: z.string(),
        points: z.int(),
        /** File it was written to; null when none was asked for or nothing changed. */
        out: z.string().nullable(),
      })
      .nullable(),
    changes: z.array(pointChangeSchema),
    problems: z.array(problemSchema),
  })
  .meta({ title: 'gapwright book import --json' });

/** What an import came to, as plain JSON data. */
export interface BookImportDocument {
  readonly document: 'gapwright-book-import-1';
  readonly file: string;
  readonly sheet: string | null;
  readonly map: string;
  readonly meltEnergyJPerMm3: number | null;
  readonly points: readonly TechnologyPoint[];
  readonly book: {
    readonly name: string;
    readonly fromVersion: string | null;
    readonly toVersion: string;
    readonly points: number;
    readonly out: string | null;
  } | null;
  readonly changes: MergedBook['changes'];
  readonly problems: readonly Problem[];
}

export function bookImportDocument(
  from: Pick<BookImportDocument, 'file' | 'sheet' | 'map' | 'meltEnergyJPerMm3'>,
  points: readonly TechnologyPoint[],
  merged: MergedBook | null,
  out: string | null,
  problems: readonly Problem[],
): BookImportDocument {
  return {
    document: 'gapwright-book-import-1',
    ...from,
    points,
    book:
      merged === null
        ? null
        : {
            name: merged.book.name,
            fromVersion: merged.fromVersion,
            toVersion: merged.book.version,
            points: merged.book.points.length,
            out,
          },
    changes: merged?.changes ?? [],
    problems,
  };
}
