import { type Problem, problem } from '@gapwright/base';
import { readTable, type Table } from '@gapwright/process';
import { readBytes } from './files.js';
import { InputError } from './input-error.js';
import { parseCsv } from './parse-csv.js';

/** A CSV file as a table, with what was noticed. */
export interface CsvFile {
  readonly table: Table;
  readonly problems: readonly Problem[];
}

/** Reads a CSV file with a header, short lines and blank ones allowed. Throws one clear error. */
export function readCsvFile(path: string): CsvFile {
  const { rows: parsed, uneven } = parseCsv(readBytes(path), path, 'skipped');
  const rows = withoutEmptyTail(parsed);
  const width = rows[0]?.length ?? 0;
  const long = rows.findIndex((row) => row.length > width);
  if (long >= 0) throw uneven(long);
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

/** Cells that are empty in every line, from separators at the end of each line, are no column. */
function withoutEmptyTail(rows: string[][]): string[][] {
  let width = Math.max(0, ...rows.slice(0, 1).map((r) => r.length));
  while (width > 1 && rows.every((r) => (r[width - 1] ?? '').trim() === '' && r.length <= width)) {
    width--;
    for (const row of rows) row.length = Math.min(row.length, width);
  }
  return rows;
}
