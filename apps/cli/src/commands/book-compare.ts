import { bookCompareDocument } from '@gapwright/job';
import { jsonText, type Outcome } from '../outcome.js';
import type { TypedArguments } from '../parse-arguments.js';
import { bookCompareText } from '../print/print-book-compare.js';
import { loadTechnologyBook } from '../technology-files.js';

/** `gapwright book compare A.json B.json`; exit code 0 whether they differ or not. */
export function bookCompareCommand({ operands, flags }: TypedArguments): Outcome {
  const [a, b] = operands as [string, string];
  const document = bookCompareDocument(
    { file: a, book: loadTechnologyBook(a) },
    { file: b, book: loadTechnologyBook(b) },
  );
  return { exitCode: 0, text: flags.json ? jsonText(document) : bookCompareText(document) };
}
