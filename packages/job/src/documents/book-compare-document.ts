import { diffTechnologyBooks, type PointChange, type TechnologyBook } from '@gapwright/process';
import { z } from 'zod';
import { documentName } from './common-schema.js';
import { pointChangeSchema } from './technology-schema.js';

const bookSchema = z
  .strictObject({ file: z.string(), name: z.string(), version: z.string(), points: z.int() })
  .meta({ id: 'technologyBook' });

/** `gapwright book compare A.json B.json --json`. */
export const bookCompareDocumentSchema = z
  .strictObject({
    document: documentName('gapwright-book-compare-1'),
    from: bookSchema,
    to: bookSchema,
    /** By point id, ascending; empty exactly when the points are equal. */
    changes: z.array(pointChangeSchema),
  })
  .meta({ title: 'gapwright book compare --json' });

export interface BookCompareDocument extends Omit<z.infer<typeof bookCompareDocumentSchema>, 'changes'> {
  readonly changes: readonly PointChange[];
}

/** A technology book and the file it came from. */
export interface BookFile {
  readonly file: string;
  readonly book: TechnologyBook;
}

export function bookCompareDocument(from: BookFile, to: BookFile): BookCompareDocument {
  const headOf = ({ file, book }: BookFile): BookCompareDocument['from'] => {
    return { file, name: book.name, version: book.version, points: book.points.length };
  };
  return {
    document: 'gapwright-book-compare-1',
    from: headOf(from),
    to: headOf(to),
    changes: diffTechnologyBooks(from.book, to.book),
  };
}
