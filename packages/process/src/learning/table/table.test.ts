import { expect, test } from 'vitest';
import { learnFromTable } from '../regression/learn-from-table.js';
import { chooseColumns } from './choose-columns.js';
import { numberIn, numberStyleOf } from './number-style.js';
import { readTable } from './read-table.js';

const HEADER = ['Run', 'Current (A)', 'material', 'y'];
const ROWS = Array.from({ length: 12 }, (_, i) => [
  `${i + 1}`,
  `${1 + ((i * 7) % 5)}`,
  'AB'[i % 2]!,
  `${2.5 + i * 0.3}`,
]);
const tableOf = (rows: string[][], header = HEADER) => readTable([header, ...rows]).value!;
const codes = (problems: readonly { code: string }[]): string[] => problems.map((p) => p.code);

test('run numbers are no input, repeated text is a group', () => {
  const { value, problems } = chooseColumns(tableOf(ROWS), 'y');
  expect(value!.numericNames).toEqual(['Current (A)']);
  expect(value!.groupNames).toEqual(['material']);
  expect(codes(problems)).toEqual(['LEARN-COLUMN-LEFT-OUT']);
});

test('a lone column 1, 2, 3, … of another name is an input', () => {
  const rows = ROWS.map((r) => [r[0]!, r[3]!]);
  expect(chooseColumns(tableOf(rows, ['current', 'y']), 'y').value!.numericNames).toEqual(['current']);
});

test('columns are found without case, underscore or unit', () => {
  expect(chooseColumns(tableOf(ROWS), 'Y', ['current']).value!.numericNames).toEqual(['Current (A)']);
});

test.each([
  ['z', undefined, 'LEARN-NO-COLUMN'],
  ['material', undefined, 'LEARN-RESPONSE-TEXT'],
  ['y', ['nothing'], 'LEARN-NO-COLUMN'],
  ['y', ['y'], 'LEARN-RESPONSE-AS-INPUT'],
])('response %s, inputs %s: %s', (response, inputs, code) => {
  const { value, problems } = chooseColumns(tableOf(ROWS), response, inputs);
  expect(value).toBeNull();
  expect(codes(problems)).toContain(code);
});

test('rows with missing cells are listed and left out', () => {
  const rows = ROWS.map((r) => [...r]);
  rows[2]![1] = 'n/a';
  rows[5]![3] = '';
  const { value, problems } = chooseColumns(tableOf(rows), 'y');
  expect(value!.rows).toHaveLength(10);
  expect(problems.find((p) => p.code === 'LEARN-ROWS-DROPPED')!.message).toContain('line 4 (Current (A): missing)');
});

test('too few rows are refused', () => {
  expect(codes(chooseColumns(tableOf(ROWS.slice(0, 4)), 'y').problems)).toContain('LEARN-TOO-FEW-ROWS');
});

test('a constant response is said to be so', () => {
  const { value, problems } = learnFromTable(tableOf(ROWS.map((r) => [r[0]!, r[1]!, r[2]!, '4'])), 'y', undefined, 1);
  expect(value!.regression.loo).toEqual({ mae: 0, crps: 0 });
  expect(codes(problems)).toContain('LEARN-CONSTANT-RESPONSE');
});

test.each([
  [['1,5', '12,25'], ',', 1.5],
  [['1.234,5'], ',', 1234.5],
  [['1,234.5'], '.', 1234.5],
  [['1,234,567'], '.', 1_234_567],
  [['0,125'], ',', 0.125],
  [['12 345', '1.5'], '.', 12_345],
  [['1.5e-3'], '.', 0.0015],
] as const)('%s is read with decimal %s', (cells, decimal, first) => {
  const { style, problems } = numberStyleOf(cells);
  expect(problems.filter((p) => p.severity === 'stop')).toEqual([]);
  expect(style.decimal).toBe(decimal);
  expect(numberIn(cells[0], style)).toBe(first);
});

test.each([
  [['1,234', '5'], 'LEARN-COMMA-UNCLEAR'],
  [['1,5', '2.5'], 'LEARN-MIXED-DECIMALS'],
])('%s is refused', (cells, code) => {
  expect(codes(numberStyleOf(cells).problems)).toEqual([code]);
});

test('a file without header or rows is refused', () => {
  expect(codes(readTable([['1', '2']]).problems)).toEqual(['LEARN-NO-HEADER']);
  expect(codes(readTable([['a', 'b']]).problems)).toEqual(['LEARN-NO-ROWS']);
  expect(codes(readTable([]).problems)).toEqual(['LEARN-EMPTY']);
});
