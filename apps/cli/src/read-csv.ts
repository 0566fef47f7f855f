import { type Problem, problem } from '@gapwright/base';
import { readTable, type Table } from '@gapwright/process';
import Papa from 'papaparse';
import { readBytes } from './files.js';
import { InputError } from './input-error.js';

/** A CSV file as a table, with what was noticed. */
export interface CsvFile {
  readonly table: Table;
  readonly problems: readonly Problem[];
}

/** Largest table, cells. */
const MOST_CELLS = 5_000_000;

/** Reads a CSV file with a header: comma, semicolon, tab or bar between cells, quotes, byte-order mark. Throws one clear error. */
export function readCsvFile(path: string): CsvFile {
  const text = decode(readBytes(path), path);
  if (text.trim() === '') throw new InputError(`${path} is empty. Give a CSV file with a header line.`);
  const parsed = Papa.parse<string[]>(text, { skipEmptyLines: 'greedy', delimitersToGuess: [',', ';', '\t', '|'] });
  const quote = parsed.errors.find((e) => e.type === 'Quotes');
  if (quote !== undefined) {
    throw new InputError(`${path}, row ${(quote.row ?? 0) + 1}: ${quote.message}. Close the quotes or remove them.`);
  }
  const rows = withoutEmptyTail(parsed.data);
  const width = rows[0]?.length ?? 0;
  const uneven = rows.findIndex((row) => row.length > width);
  if (uneven >= 0) {
    const hint =
      parsed.meta.delimiter === ','
        ? 'Decimal commas need a semicolon or tab between cells, or quotes around them'
        : 'Every line needs one cell per column';
    throw new InputError(
      `${path}, line ${uneven + 1} has ${rows[uneven]!.length} cells, the header has ${width}. ${hint}.`,
    );
  }
  if (width * rows.length > MOST_CELLS) {
    throw new InputError(`${path} has ${width * rows.length} cells; at most ${MOST_CELLS} can be learnt from.`);
  }
  const short = shortRows(rows, width);
  const { value, problems } = readTable(rows);
  if (value === null) throw new InputError(`${path}: ${problems[0]!.message}`);
  return { table: value, problems: [...short, ...problems] };
}

/** Lines with fewer cells than the header: what is not there is missing. */
function shortRows(rows: readonly (readonly string[])[], width: number): Problem[] {
  const lines = rows.flatMap((row, k) => (row.length < width ? [k + 1] : []));
  if (lines.length === 0) return [];
  const shown = `${lines.slice(0, 8).join(', ')}${lines.length > 8 ? ', …' : ''}`;
  const what = `${lines.length} lines have fewer cells than the header (${shown}); the cells at their end count as missing`;
  return [problem({ code: 'LEARN-SHORT-LINES', severity: 'warn', what })];
}

/** Text of a file in UTF-8 or, with its mark, UTF-16; anything else that is no text is refused. */
function decode(bytes: Uint8Array, path: string): string {
  const isWide = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  const text = new TextDecoder(isWide ? (bytes[0] === 0xff ? 'utf-16le' : 'utf-16be') : 'utf-8').decode(bytes);
  if (text.includes('\u0000')) throw new InputError(`${path} is not a text file. Export the table as CSV.`);
  return text;
}

/** Cells that are empty in every line, from separators at the end of each line, are no column. */
function withoutEmptyTail(rows: string[][]): string[][] {
  let width = Math.max(0, ...rows.slice(0, 1).map((r) => r.length));
  while (width > 1 && rows.every((r) => (r[width - 1] ?? '').trim() === '' && r.length <= width)) {
    width--;
    for (const row of rows) row.length = Math.min(row.length, width);
  }
  return rows;
}
