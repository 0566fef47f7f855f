import { type Problem, problem, type Result } from '@gapwright/base';
import type { Inputs } from '../regression/features.js';
import { isMissing } from './number-style.js';
import { findColumn, type Table, type TableColumn } from './read-table.js';

/** A regression ready to run: cleaned columns and what was left out. */
export interface Prepared {
  readonly response: Float64Array;
  readonly responseName: string;
  readonly inputs: Inputs;
  readonly numericNames: readonly string[];
  readonly groupNames: readonly string[];
  /** Row numbers of the table that are used. */
  readonly rows: readonly number[];
}

/** Fewest rows from which anything can be learnt and checked. */
export const LEAST_ROWS = 5;
/** An input chosen by default is left out when more than this share of its cells is missing. */
const MOST_MISSING_SHARE = 0.3;
/** Most levels of a text column, per row and in all: a level seen once or twice teaches nothing. */
const MOST_LEVELS_PER_ROW = 1 / 3;
const MOST_LEVELS = 40;
/** Names of columns that count or identify rows. */
const RUN_NAME =
  /^(s\.?\s?no|no|nr|#|run|exp|expt|experiment|trial|test|id|idx|index|obs|observation|row|sample|specimen|case|std|std\s?order|run\s?order|serial|sl\.?\s?no)(\s?(no|nr|number|id|#|order))?\.?$/i;
/** A counter may repeat where rows were copied; a quantity repeats far more often. */
const COUNTER_DISTINCT_SHARE = 0.7;

const stop = (code: string, what: string, fix: string): Problem => problem({ code, severity: 'stop', what, fix });
const warn = (code: string, what: string): Problem => problem({ code, severity: 'warn', what });
const failed = (problems: readonly Problem[]): Result<Prepared> => ({ value: null, problems });

/**
 * Chooses response, inputs and rows. Without `inputNames` every other numeric column that does not merely count rows is an input,
 * and text columns with repeated levels are groups.
 */
export function chooseColumns(table: Table, responseName: string, inputNames?: readonly string[]): Result<Prepared> {
  const problems: Problem[] = [];
  const found = lookUp(table, responseName, 'response', problems);
  if (found === null) return failed(problems);
  if (found.numbers === null) {
    const sample = found.cells.find((c) => !isMissing(c));
    const says = sample === undefined ? 'has no values' : `is not numeric, e.g. "${sample}"`;
    return failed([stop('LEARN-RESPONSE-TEXT', `Response column "${found.name}" ${says}`, 'Name a column of numbers')]);
  }
  const chosen =
    inputNames === undefined ? defaultInputs(table, found, problems) : named(table, found, inputNames, problems);
  if (chosen === null) return failed(problems);
  const rows = usableRows(table, [found, ...chosen], problems);
  if (rows.length < LEAST_ROWS) {
    const fix = `At least ${LEAST_ROWS} are needed; add rows or leave out inputs with missing values`;
    const what = `Only ${rows.length} of ${table.rows} rows have a number for the response and a value for every input`;
    return failed([stop('LEARN-TOO-FEW-ROWS', what, fix)]);
  }
  const kept = chosen.filter((c) => {
    const isVarying = c.numbers === null ? isTextVarying(c, rows) : isNumberVarying(c, rows);
    if (!isVarying) problems.push(warn('LEARN-CONSTANT', `Input "${c.name}" is the same in every row and is left out`));
    return isVarying;
  });
  const pick = (c: TableColumn): Float64Array => Float64Array.from(rows, (r) => c.numbers![r]!);
  const numeric = kept.filter((c) => c.numbers !== null);
  const groups = kept.filter((c) => c.numbers === null);
  if (kept.length === 0) problems.push(warn('LEARN-NO-INPUTS', 'No input is left; only the mean can be learnt'));
  const value: Prepared = {
    response: pick(found),
    responseName: found.name,
    inputs: { rows: rows.length, numeric: numeric.map(pick), groups: groups.map((c) => groupOf(c, rows)) },
    numericNames: numeric.map((c) => c.name),
    groupNames: groups.map((c) => c.name),
    rows,
  };
  duplicates(table, rows, [found, ...kept], problems);
  return { value, problems };
}

function lookUp(table: Table, name: string, what: string, problems: Problem[]): TableColumn | null {
  const { column, isUnclear } = findColumn(table, name);
  if (column !== null) return column;
  const known = table.columns.map((c) => c.name);
  const shown = known.length > 12 ? [...known.slice(0, 12), `and ${known.length - 12} more`] : known;
  problems.push(
    isUnclear
      ? stop('LEARN-COLUMN-UNCLEAR', `More than one column fits the ${what} "${name}"`, 'Give each column its own name')
      : stop('LEARN-NO-COLUMN', `There is no column "${name}" for the ${what}`, `Columns are: ${shown.join(', ')}`),
  );
  return null;
}

function named(
  table: Table,
  response: TableColumn,
  names: readonly string[],
  problems: Problem[],
): TableColumn[] | null {
  const chosen: TableColumn[] = [];
  for (const name of names) {
    const column = lookUp(table, name, 'inputs', problems);
    if (column === null) return null;
    if (column === response) {
      problems.push(
        stop('LEARN-RESPONSE-AS-INPUT', `"${column.name}" is the response and an input`, 'Leave it out of the inputs'),
      );
      return null;
    }
    if (chosen.includes(column)) {
      problems.push(warn('LEARN-INPUT-TWICE', `Input "${column.name}" is named twice and used once`));
    } else chosen.push(column);
  }
  return chosen;
}

function defaultInputs(table: Table, response: TableColumn, problems: Problem[]): TableColumn[] {
  return table.columns.filter((c) => {
    if (c === response) return false;
    const reason = whyNot(c, table);
    if (reason === null) return true;
    if (reason !== '') problems.push(warn('LEARN-COLUMN-LEFT-OUT', `Column "${c.name}" is left out: ${reason}`));
    return false;
  });
}

/** Why a column is no input by default; null when it is one, empty when nothing need be said. */
function whyNot(c: TableColumn, table: Table): string | null {
  const { rows } = table;
  const filled = c.cells.filter((cell) => !isMissing(cell)).length;
  if (filled === 0) return 'it is empty';
  if (filled < (1 - MOST_MISSING_SHARE) * rows) return `${rows - filled} of ${rows} cells are missing`;
  if (c.numbers === null) {
    const levels = new Set(c.cells).size;
    if (levels > MOST_LEVELS || levels > Math.max(2, MOST_LEVELS_PER_ROW * rows)) {
      return `it is text with ${levels} different values in ${rows} rows, too many to learn from`;
    }
    return null;
  }
  return isRunNumber(c, table) ? 'it only counts the rows' : null;
}

/** A counter by its name, or 1, 2, 3, … down the first column beside other numbers. */
function isRunNumber(c: TableColumn, table: Table): boolean {
  const values = [...c.numbers!].filter((v) => !Number.isNaN(v));
  if (!values.every(Number.isInteger)) return false;
  if (RUN_NAME.test(c.name.replace(/[_-]+/g, ' ').trim())) {
    return new Set(values).size >= COUNTER_DISTINCT_SHARE * values.length;
  }
  const isInOrder = values.every((v, k) => v === values[0]! + k) && (values[0] === 0 || values[0] === 1);
  const numeric = table.columns.filter((other) => other.numbers !== null).length;
  return isInOrder && values.length === table.rows && c === table.columns[0] && numeric > 2;
}

function usableRows(table: Table, columns: readonly TableColumn[], problems: Problem[]): number[] {
  const rows: number[] = [];
  const dropped: string[] = [];
  for (let r = 0; r < table.rows; r++) {
    const bad = columns.find((c) => (c.numbers === null ? isMissing(c.cells[r]!) : Number.isNaN(c.numbers[r]!)));
    if (bad === undefined) rows.push(r);
    else {
      const cell = bad.cells[r]!;
      dropped.push(`line ${r + table.firstLine} (${bad.name}: ${isMissing(cell) ? 'missing' : `"${cell}"`})`);
    }
  }
  if (dropped.length > 0) {
    const shown = dropped.slice(0, 8).join(', ');
    const more = dropped.length > 8 ? ` and ${dropped.length - 8} more` : '';
    problems.push(warn('LEARN-ROWS-DROPPED', `${dropped.length} of ${table.rows} rows are not used: ${shown}${more}`));
  }
  return rows;
}

function isNumberVarying(c: TableColumn, rows: readonly number[]): boolean {
  return rows.some((r) => c.numbers![r] !== c.numbers![rows[0]!]);
}

function isTextVarying(c: TableColumn, rows: readonly number[]): boolean {
  return rows.some((r) => c.cells[r] !== c.cells[rows[0]!]);
}

function groupOf(c: TableColumn, rows: readonly number[]): Inputs['groups'][number] {
  const levels = [...new Set(rows.map((r) => c.cells[r]!))].sort();
  return { levelOf: Int32Array.from(rows, (r) => levels.indexOf(c.cells[r]!)), levels: levels.length };
}

function duplicates(table: Table, rows: readonly number[], columns: readonly TableColumn[], problems: Problem[]): void {
  const seen = new Map<string, number>();
  const twins: string[] = [];
  for (const r of rows) {
    const key = columns.map((c) => (c.numbers === null ? c.cells[r]! : String(c.numbers[r]))).join('\u0000');
    const first = seen.get(key);
    if (first === undefined) seen.set(key, r);
    else twins.push(`${r + table.firstLine} = ${first + table.firstLine}`);
  }
  if (twins.length === 0) return;
  const shown = twins.slice(0, 6).join(', ');
  const what = `${twins.length} rows repeat another row with the very same response (lines ${shown}${twins.length > 6 ? ', …' : ''}); if they are copies and not repeats of the burn, every score is too good`;
  problems.push(warn('LEARN-DUPLICATES', what));
}
