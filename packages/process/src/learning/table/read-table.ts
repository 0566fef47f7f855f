import { type Problem, problem, type Result } from '@gapwright/base';
import { isMissing, type NumberStyle, numberIn, numberStyleOf } from './number-style.js';

/** One column of a table with a header. */
export interface TableColumn {
  readonly name: string;
  readonly cells: readonly string[];
  /** Numbers by row, NaN where missing or unreadable; null for a text column. */
  readonly numbers: Float64Array | null;
}

/** A table of text cells, columns typed. */
export interface Table {
  readonly rows: number;
  readonly columns: readonly TableColumn[];
  readonly style: NumberStyle;
  /** Line of the file on which row 0 stands, for messages. */
  readonly firstLine: number;
}

/** A column is numeric when at least this share of its filled cells are numbers; the others are listed as unreadable. */
const NUMERIC_SHARE = 0.8;

const stop = (code: string, what: string, fix: string): Problem => problem({ code, severity: 'stop', what, fix });

/** Turns rows of text, the first of them the header, into typed columns. Row lengths must already be equal. */
export function readTable(lines: readonly (readonly string[])[]): Result<Table> {
  const [header, ...body] = lines;
  if (header === undefined || header.every((h) => h.trim() === '')) {
    return { value: null, problems: [stop('LEARN-EMPTY', 'The file has no header line', 'Give a CSV file with one')] };
  }
  if (header.every((h) => !Number.isNaN(numberIn(h, { decimal: '.', hasThousands: false })))) {
    return {
      value: null,
      problems: [
        stop(
          'LEARN-NO-HEADER',
          'The first line of the file holds only numbers',
          'Put the column names on the first line',
        ),
      ],
    };
  }
  if (body.length === 0) {
    return {
      value: null,
      problems: [stop('LEARN-NO-ROWS', 'The file has a header but no rows', 'Add the measurements')],
    };
  }
  const { style, problems } = numberStyleOf(cellsOf(body));
  if (problems.some((p) => p.severity === 'stop')) return { value: null, problems };
  const columns = header.map((rawName, c): TableColumn => {
    const cells = body.map((row) => (row[c] ?? '').trim());
    const numbers = Float64Array.from(cells, (cell) => numberIn(cell, style));
    const filled = cells.filter((cell) => !isMissing(cell)).length;
    const read = numbers.reduce((n, v) => (Number.isNaN(v) ? n : n + 1), 0);
    const name = rawName.trim() === '' ? `column ${c + 1}` : rawName.trim();
    return { name, cells, numbers: filled > 0 && read >= NUMERIC_SHARE * filled ? numbers : null };
  });
  return { value: { rows: body.length, columns, style, firstLine: 2 }, problems };
}

function* cellsOf(body: readonly (readonly string[])[]): Iterable<string> {
  for (const row of body) yield* row;
}

/**
 * Finds a column as people write its name: exactly, else without regard to case, blanks, underscores and a unit in brackets.
 * Null when none or more than one fits.
 */
export function findColumn(table: Table, wanted: string): { column: TableColumn | null; isUnclear: boolean } {
  const tests: ((name: string) => string)[] = [
    (name) => name,
    (name) =>
      name
        .toLowerCase()
        .replace(/[\s_-]+/g, ' ')
        .trim(),
    (name) =>
      name
        .toLowerCase()
        .replace(/[[(].*?[\])]/g, '')
        .replace(/[\s_-]+/g, ' ')
        .trim(),
  ];
  for (const plain of tests) {
    const fits = table.columns.filter((c) => plain(c.name) === plain(wanted) && plain(wanted) !== '');
    if (fits.length === 1) return { column: fits[0]!, isUnclear: false };
    if (fits.length > 1) return { column: null, isUnclear: true };
  }
  return { column: null, isUnclear: false };
}
