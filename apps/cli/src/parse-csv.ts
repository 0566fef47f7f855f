import Papa from 'papaparse';
import { InputError } from './input-error.js';

/** Most cells of one table. */
const MOST_CELLS = 5_000_000;

/** Rows of text cells as they stand in a CSV file. */
export interface CsvRows {
  readonly rows: string[][];
  /** The one clear error for a row whose number of cells does not fit the header. */
  readonly uneven: (row: number) => InputError;
}

/**
 * Parses a CSV file: comma, semicolon, tab or bar between cells, quotes, byte-order mark. Throws one clear error when it
 * is empty, no text, too large or has an open quote.
 */
export function parseCsv(bytes: Uint8Array, path: string, blankLines: 'kept' | 'skipped'): CsvRows {
  const text = decode(bytes, path);
  if (text.trim() === '') throw new InputError(`${path} is empty. Give a CSV file with a header line.`);
  const parsed = Papa.parse<string[]>(text, {
    delimitersToGuess: [',', ';', '\t', '|'],
    skipEmptyLines: blankLines === 'skipped' ? 'greedy' : false,
  });
  const quote = parsed.errors.find((e) => e.type === 'Quotes');
  if (quote !== undefined) {
    throw new InputError(`${path}, row ${(quote.row ?? 0) + 1}: ${quote.message}. Close the quotes or remove them.`);
  }
  const rows = parsed.data;
  const width = rows[0]?.length ?? 0;
  if (width * rows.length > MOST_CELLS) {
    throw new InputError(`${path} has ${width * rows.length} cells; at most ${MOST_CELLS} can be taken.`);
  }
  const uneven = (row: number): InputError => {
    const cells = rows[row]!.length;
    const hint =
      parsed.meta.delimiter === ',' && cells > width
        ? 'Decimal commas need a semicolon or tab between cells, or quotes around them'
        : 'Every line needs one cell per column';
    return new InputError(`${path}, line ${row + 1} has ${cells} cells, the header has ${width}. ${hint}.`);
  };
  return { rows, uneven };
}

/** Text of a file in UTF-8 or, with its mark, UTF-16; anything else is refused. */
function decode(bytes: Uint8Array, path: string): string {
  const isWide = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  const text = new TextDecoder(isWide ? (bytes[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8').decode(bytes);
  if (text.includes('\u0000')) throw new InputError(`${path} is not a text file. Export the table as CSV.`);
  // A micro sign from an older code page would make headers that match nothing.
  if (text.includes('\ufffd')) throw new InputError(`${path} is not UTF-8 text. Export the table as CSV in UTF-8.`);
  return text;
}
