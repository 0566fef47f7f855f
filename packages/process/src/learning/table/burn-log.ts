import { type Problem, problem, type Result } from '@gapwright/base';
import { type Burn, NOT_STATED } from '../burns/burn.js';
import { isMissing } from './number-style.js';
import { findColumn, type Table, type TableColumn } from './read-table.js';

/** A burn log read from a table. */
export interface BurnLog {
  /** In the order of their dates. */
  readonly burns: readonly Burn[];
  /** Columns the log does not have. */
  readonly absent: readonly string[];
}

/** Names by which each column is known; the first is the one to use in a new log. */
const COLUMNS = {
  actual: ['actual_min', 'actual', 'actual minutes', 'burned_min', 'actual time min'],
  predicted: ['predicted_min', 'predicted', 'predicted minutes', 'planned_min', 'estimate_min', 'estimated_min'],
  material: ['material', 'material_id', 'grade'],
  machine: ['machine', 'machine_id'],
  tool: ['wire', 'electrode', 'tool', 'wire_id', 'electrode_material'],
  height: ['height_mm', 'height', 'thickness_mm'],
  level: ['level', 'pass', 'energy_level'],
  date: ['date', 'day', 'finished', 'burned_on'],
} as const;

const MS_PER_DAY = 86_400_000;

/** True when the table has the two columns that make it a burn log. */
export function isBurnLog(table: Table): boolean {
  return columnOf(table, 'actual') !== null && columnOf(table, 'predicted') !== null;
}

/** Reads a burn log. Rows that cannot be used are listed and left out. */
export function readBurnLog(table: Table): Result<BurnLog> {
  const problems: Problem[] = [];
  const actual = columnOf(table, 'actual');
  const predicted = columnOf(table, 'predicted');
  if (actual?.numbers == null || predicted?.numbers == null) {
    const what = `The file is no burn log: it needs number columns "${COLUMNS.actual[0]}" and "${COLUMNS.predicted[0]}"`;
    return { value: null, problems: [stop('LEARN-NO-BURN-LOG', what, 'Name them so, or give --response COLUMN')] };
  }
  const optional = (['material', 'machine', 'tool', 'height', 'level', 'date'] as const).map((what) => ({
    what,
    column: columnOf(table, what),
  }));
  const column = Object.fromEntries(optional.map((o) => [o.what, o.column])) as Record<
    (typeof optional)[number]['what'],
    TableColumn | null
  >;
  const absent = optional.filter((o) => o.column === null).map((o) => o.what);
  if (absent.length > 0) {
    const what = `The log does not say ${absent.join(', ')}; effects of ${absent.length === 1 ? 'it' : 'them'} cannot be told apart`;
    problems.push(problem({ code: 'LEARN-LOG-COLUMNS', severity: 'warn', what }));
  }
  const burns: Burn[] = [];
  const dropped: string[] = [];
  for (let r = 0; r < table.rows; r++) {
    const line = r + table.firstLine;
    const actualMin = actual.numbers[r]!;
    const predictedMin = predicted.numbers[r]!;
    if (!(actualMin > 0) || !(predictedMin > 0)) {
      dropped.push(`line ${line} (minutes must be numbers above 0)`);
      continue;
    }
    const day = column.date === null ? r : dayOf(column.date.cells[r]!);
    if (Number.isNaN(day)) {
      dropped.push(`line ${line} (date "${column.date!.cells[r]}" is not YYYY-MM-DD)`);
      continue;
    }
    const text = (c: TableColumn | null): string => (c === null || isMissing(c.cells[r]!) ? NOT_STATED : c.cells[r]!);
    burns.push({
      ...{ day, actualMin, predictedMin },
      material: text(column.material),
      machine: text(column.machine),
      tool: text(column.tool),
      heightMm: column.height?.numbers?.[r] ?? Number.NaN,
      level: text(column.level),
    });
  }
  if (dropped.length > 0) {
    const more = dropped.length > 8 ? ` and ${dropped.length - 8} more` : '';
    const what = `${dropped.length} of ${table.rows} rows are not used: ${dropped.slice(0, 8).join(', ')}${more}`;
    problems.push(problem({ code: 'LEARN-ROWS-DROPPED', severity: 'warn', what }));
  }
  if (burns.length === 0) {
    return {
      value: null,
      problems: [stop('LEARN-NO-BURNS', 'No burn in the log can be used', 'See the columns above')],
    };
  }
  burns.sort((a, b) => a.day - b.day);
  return { value: { burns, absent }, problems };
}

function columnOf(table: Table, what: keyof typeof COLUMNS): TableColumn | null {
  for (const name of COLUMNS[what]) {
    const { column } = findColumn(table, name);
    if (column !== null) return column;
  }
  return null;
}

/** Days since 1970-01-01; NaN for anything but a real YYYY-MM-DD. */
function dayOf(cell: string): number {
  const m = /^(\d{4})-(\d{2})-(\d{2})/.exec(cell.trim());
  if (m === null) return Number.NaN;
  const [year, month, day] = [Number(m[1]), Number(m[2]), Number(m[3])];
  const ms = Date.UTC(year, month - 1, day);
  const isReal = new Date(ms).getUTCMonth() === month - 1 && new Date(ms).getUTCDate() === day;
  return isReal ? Math.round(ms / MS_PER_DAY) : Number.NaN;
}

/** The day as YYYY-MM-DD. */
export function dateText(day: number): string {
  return new Date(day * MS_PER_DAY).toISOString().slice(0, 10);
}

function stop(code: string, what: string, fix: string): Problem {
  return problem({ code, severity: 'stop', what, fix });
}
