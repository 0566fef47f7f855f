import Papa from 'papaparse';
import { InputError } from './input-error.js';

/** Most cells of one table. */
const MOST_CELLS = 5_000_000;

/**
 * The cells of a CSV file as text, header first, every row equally long, blank rows kept so that rows keep their numbers:
 * comma, semicolon, tab or bar between cells, quotes, byte-order mark. Throws one clear error.
 */
export function csvCells(bytes: Uint8Array, path: string): readonly (readonly string[])[] {
  const text = decode(bytes, path);
  if (text.trim() === '') throw new InputError(`${path} is empty. Give a CSV file with a header line.`);
  const parsed = Papa.parse<string[]>(text, { delimitersToGuess: [',', ';', '\t', '|'] });
  const quote = parsed.errors.find((e) => e.type === 'Quotes');
  if (quote !== undefined) {
    throw new InputError(`${path}, row ${(quote.row ?? 0) + 1}: ${quote.message}. Close the quotes or remove them.`);
  }
  const rows = parsed.data;
  const isBlank = (row: readonly string[]): boolean => row.every((cell) => cell.trim() === '');
  while (rows.length > 0 && isBlank(rows.at(-1)!)) rows.pop();
  if (isBlank(rows[0]!)) {
    throw new InputError(`The first line of ${path} is blank. Put the names of the columns there.`);
  }
  const width = rows[0]!.length;
  const uneven = rows.findIndex((row) => row.length !== width && !isBlank(row));
  if (uneven >= 0) {
    const hint =
      parsed.meta.delimiter === ',' && rows[uneven]!.length > width
        ? 'Decimal commas need a semicolon or tab between cells, or quotes around them'
        : 'Every line needs one cell per column';
    throw new InputError(
      `${path}, row ${uneven + 1} has ${rows[uneven]!.length} cells, the header has ${width}. ${hint}.`,
    );
  }
  if (width * rows.length > MOST_CELLS) {
    throw new InputError(`${path} has ${width * rows.length} cells; at most ${MOST_CELLS} can be taken.`);
  }
  return rows.map((row) => (row.length === width ? row : Array.from({ length: width }, () => '')));
}

/** Text of a file in UTF-8 or, with its mark, UTF-16; anything else that is no text is refused. */
function decode(bytes: Uint8Array, path: string): string {
  const isWide = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  const text = new TextDecoder(isWide ? (bytes[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8').decode(bytes);
  if (text.includes('\u0000')) throw new InputError(`${path} is not a text file. Export the table as CSV.`);
  // Not UTF-8: a micro sign from an older code page would make headers that match nothing.
  if (text.includes('\ufffd')) throw new InputError(`${path} is not UTF-8 text. Export the table as CSV in UTF-8.`);
  return text;
}
