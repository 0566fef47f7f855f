import { type Problem, type ProblemParts, problem, type Result } from '@gapwright/base';
import type { CellNumber, ColumnMapping, ImportedRow, ImportMapping, TextMapping } from './import-mapping.js';
import { findingsOf } from './quality.js';
import { roleOf, TECHNOLOGY_QUANTITIES, type TechnologyQuantity } from './quantities.js';
import type { TechnologyPoint } from './technology-point.js';
import { unitFactor } from './units.js';

interface ResolvedColumn extends ColumnMapping {
  readonly index: number;
  readonly factor: number;
}

/**
 * Turns a table (header row and rows of text cells, as a CSV or spreadsheet reader gives them) into technology points.
 * Units are stated per column and converted; nothing is repaired. `value` is null when a stop problem was found:
 * `TECH-TABLE-EMPTY`, `TECH-COLUMN-MISSING`, `TECH-COLUMN-AMBIGUOUS`, `TECH-COLUMN-TWICE`, `TECH-UNIT-…`, `TECH-DENSITY-MISSING`, `TECH-BAD-NUMBER`,
 * `TECH-NO-NAME`, and those of the quality checks (see `findingsOf`). Warns
 * `TECH-ZERO-RESULT` for results of 0, which are left out, and `TECH-NO-RESULT` for rows without any.
 */
export function importTechnologyPoints(
  rows: readonly (readonly string[])[],
  mapping: ImportMapping,
): Result<readonly TechnologyPoint[]> {
  const problems: Problem[] = [];
  const stop = (parts: Omit<ProblemParts, 'severity'>): void => {
    problems.push(problem({ severity: 'stop', ...parts }));
  };
  const [header, ...body] = rows;
  if (header === undefined || body.length === 0) {
    stop({
      code: 'TECH-TABLE-EMPTY',
      what: 'The table has no rows under its header',
      fix: 'Give a header row and at least one burn',
    });
    return { value: null, problems };
  }
  const columns = resolveColumns(header, mapping, stop);
  const materialOf = textReader(header, mapping.material, stop);
  const toolOf = textReader(header, mapping.tool, stop);
  if (problems.length > 0) return { value: null, problems };
  if (!columns.some((c) => roleOf(c.quantity) === 'result')) {
    stop({
      code: 'TECH-COLUMN-MISSING',
      what: 'No column is mapped to a result',
      fix: 'Map a rate, Ra, gap, wear or recast column',
    });
    return { value: null, problems };
  }

  const imported: ImportedRow[] = [];
  const zeros = new Map<string, number[]>();
  const bad: Omit<ProblemParts, 'severity'>[] = [];
  body.forEach((cells, k) => {
    if (cells.every((cell) => cell.trim() === '')) return;
    const row = k + 2;
    const numbers = readRow(cells, row, columns, mapping.decimal ?? '.', (parts) => bad.push(parts));
    for (const { quantity, header: name } of columns) {
      if (roleOf(quantity) !== 'result' || numbers[quantity]?.value !== 0) continue;
      delete numbers[quantity];
      zeros.set(name, [...(zeros.get(name) ?? []).slice(0, MOST_TOLD), row]);
    }
    const material = materialOf(cells);
    const tool = toolOf(cells);
    if (material === '' || tool === '') {
      const what = `Row ${row} names no ${material === '' ? 'material' : 'tool'}`;
      bad.push({ code: 'TECH-NO-NAME', what, fix: 'Fill it in or leave the row out', at: { line: row } });
    }
    imported.push({ row, cells: numbers, point: pointOf(mapping, row, material, tool, numbers) });
  });
  for (const parts of bad.slice(0, MOST_TOLD)) stop(parts);
  if (bad.length > MOST_TOLD) {
    stop({
      code: 'TECH-BAD-NUMBER',
      what: `${bad.length - MOST_TOLD} further cells cannot be read`,
      fix: 'Mend those listed first',
    });
  }
  if (imported.length === 0)
    stop({ code: 'TECH-TABLE-EMPTY', what: 'All rows are blank', fix: 'Give at least one burn' });
  if (problems.length > 0) return { value: null, problems };
  for (const [name, at] of zeros) {
    const what = `${name} is 0 in row ${at.slice(0, MOST_TOLD).join(', ')}${at.length > MOST_TOLD ? ' and more' : ''}: too small to measure, not nothing`;
    const fix =
      'These results are left out, so the rest leans to larger values; give the smallest measurable value instead';
    problems.push(problem({ code: 'TECH-ZERO-RESULT', severity: 'warn', what, fix, at: { field: name } }));
  }
  const silent = imported.filter(({ point }) => Object.keys(point.results).length === 0).map(({ row }) => row);
  if (silent.length > 0) {
    const rows = `${silent.slice(0, MOST_TOLD).join(', ')}${silent.length > MOST_TOLD ? ' and more' : ''}`;
    const what = silent.length === 1 ? `Row ${rows} has no result` : `Rows ${rows} have no result`;
    const fix = 'Such a burn tells nothing; fill it in or leave the row out';
    problems.push(problem({ code: 'TECH-NO-RESULT', severity: 'warn', what, fix, at: { line: silent[0]! } }));
  }
  problems.push(...findingsOf(imported, mapping));
  const stopped = problems.some((p) => p.severity === 'stop');
  return { value: stopped ? null : imported.map(({ point }) => point), problems };
}

/** Faults of one kind told one by one; more would bury the first. */
const MOST_TOLD = 10;

function readRow(
  cells: readonly string[],
  row: number,
  columns: readonly ResolvedColumn[],
  decimal: '.' | ',',
  bad: Stop,
): Partial<Record<TechnologyQuantity, CellNumber>> {
  const numbers: Partial<Record<TechnologyQuantity, CellNumber>> = {};
  for (const { index, quantity, factor, header } of columns) {
    const text = (cells[index] ?? '').trim();
    const number = readNumber(text, decimal);
    if (number !== null) {
      numbers[quantity] = { value: number.value * factor, step: number.step * factor };
    } else if (text !== '' || roleOf(quantity) === 'condition') {
      const what = text === '' ? `Row ${row} has no ${header}` : `"${text}" in row ${row}, ${header}, is not a number`;
      const fix = `Write it with "${decimal}" as decimal sign and without thousands signs, or leave the row out`;
      bad({ code: 'TECH-BAD-NUMBER', what, fix, at: { line: row, field: header } });
    }
  }
  return numbers;
}

type Stop = (parts: Omit<ProblemParts, 'severity'>) => void;

function resolveColumns(header: readonly string[], mapping: ImportMapping, stop: Stop): ResolvedColumn[] {
  const out: ResolvedColumn[] = [];
  const taken = new Set<TechnologyQuantity>();
  for (const column of mapping.columns) {
    const index = columnIndex(header, column.header, stop);
    const { unit } = TECHNOLOGY_QUANTITIES[column.quantity];
    const factor = unitFactor(column.unit, unit, column.densityGPerCm3);
    for (const found of factor.problems) {
      stop({
        code: found.code,
        what: `Column "${column.header}": ${found.message.replace(/\.$/, '')}`,
        at: { field: column.header },
      });
    }
    if (taken.has(column.quantity)) {
      const what = `Two columns are mapped to ${column.quantity}`;
      stop({ code: 'TECH-COLUMN-TWICE', what, fix: 'Keep one of them', at: { field: column.header } });
    }
    taken.add(column.quantity);
    if (index !== null && factor.value !== null) out.push({ ...column, index, factor: factor.value });
  }
  return out;
}

function columnIndex(header: readonly string[], name: string, stop: Stop): number | null {
  const index = header.findIndex((cell) => cell.trim() === name);
  if (index >= 0 && header.some((cell, k) => k > index && cell.trim() === name)) {
    const what = `The table has more than one column "${name}"`;
    stop({ code: 'TECH-COLUMN-AMBIGUOUS', what, fix: 'Give each its own header' });
    return null;
  }
  if (index >= 0) return index;
  const what = `The table has no column "${name}"`;
  stop({ code: 'TECH-COLUMN-MISSING', what, fix: `Its columns are ${header.map((h) => `"${h.trim()}"`).join(', ')}` });
  return null;
}

function textReader(header: readonly string[], from: TextMapping, stop: Stop): (cells: readonly string[]) => string {
  if ('text' in from) return () => from.text;
  const index = columnIndex(header, from.column, stop);
  return (cells) => (index === null ? '' : (cells[index] ?? '').trim());
}

/** Reads a plain decimal number; null for anything else, so that `1,234` never becomes a guess. */
function readNumber(text: string, decimal: '.' | ','): CellNumber | null {
  const plain = decimal === ',' ? text.replace(',', '.') : text;
  if (decimal === ',' && text.includes('.')) return null;
  if (!/^[+-]?\d+(?:\.\d+)?(?:[eE][+-]?\d{1,3})?$/.test(plain)) return null;
  const value = Number(plain);
  if (!Number.isFinite(value)) return null;
  // Spreadsheets store 0.1 as 0.10000000000000001: what was written is the shortest number that is stored so.
  const written = plain.replace(/[eE].*$/, '').replace(/\D/g, '').length > STORED_DIGITS ? String(value) : plain;
  return { value, step: stepOf(written) };
}

/** More digits than anybody measures or a double holds. */
const STORED_DIGITS = 15;

/** One step of the last digit of a plain decimal number. */
function stepOf(written: string): number {
  const match = /^[+-]?\d+(?:\.(\d+))?(?:[eE]([+-]?\d+))?$/.exec(written);
  return 10 ** (Number(match?.[2] ?? 0) - (match?.[1]?.length ?? 0));
}

function pointOf(
  mapping: ImportMapping,
  row: number,
  material: string,
  tool: string,
  numbers: Partial<Record<TechnologyQuantity, CellNumber>>,
): TechnologyPoint {
  const pick = (role: 'condition' | 'result') =>
    Object.fromEntries(
      Object.entries(numbers)
        .filter(([name]) => roleOf(name as TechnologyQuantity) === role)
        .map(([name, cell]) => [name, tidy(cell.value)]),
    );
  return Object.freeze({
    id: `${mapping.idPrefix}-${String(row).padStart(4, '0')}`,
    process: mapping.process,
    material,
    tool,
    conditions: pick('condition'),
    results: pick('result'),
    source: mapping.source,
  });
}

/** Twelve digits: converting back gives the written number again, and books stay readable. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
