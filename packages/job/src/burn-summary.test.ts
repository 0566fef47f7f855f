import { readFileSync } from 'node:fs';
import { parseShopBook } from '@gapwright/process';
import { expect, test } from 'vitest';
import { burnsFromCells, summariseBurns } from './burn-summary.js';

const file = (path: string): string => readFileSync(new URL(`../../../${path}`, import.meta.url), 'utf8');
const cells = file('demo/burn-log.csv')
  .trim()
  .split(/\r?\n/)
  .map((line) => line.split(','));
const book = JSON.parse(file('shop/starting-shop-book.json'));

test('a log read from a table is summed up, whatever the order it is kept in', () => {
  const { burns, problems } = burnsFromCells(cells);
  expect([burns.length, problems]).toEqual([160, []]);
  const turned = [...burns].reverse();
  const there = summariseBurns(burns, book);
  const back = summariseBurns(turned, book);
  expect(there.summary!.burns).toBe(160);
  expect(there.seen.map((s) => s.index)).toEqual(burns.map((_, i) => i));
  expect(back.seen.map((s) => turned[s.index]!.day)).toEqual(there.seen.map((s) => burns[s.index]!.day));
  for (const s of there.seen) {
    expect(s.low95Min).toBeLessThan(s.low80Min);
    const { actualMin } = burns[s.index]!;
    expect(s.isIn80).toBe(actualMin >= s.low80Min && actualMin <= s.high80Min);
  }
  expect(parseShopBook(there.book!.json).value!.version).toBe(there.book!.toVersion);
  expect(there.book!.says).toHaveLength(there.summary!.book!.changes.length);
});

test('no burns teach nothing, a broken book is said', () => {
  expect(summariseBurns([], book)).toEqual({ summary: null, seen: [], book: null, problems: [] });
  const { book: next, problems } = summariseBurns(burnsFromCells(cells).burns, { version: 1 });
  expect(next).toBeNull();
  expect(problems.length).toBeGreaterThan(0);
});

test('rows without height are left out aloud; a table without a needed column is refused', () => {
  const height = cells[0]!.indexOf('height_mm');
  const holed = cells.slice(0, 11).map((row, i) => (i === 3 ? row.with(height, '') : row));
  const { burns, problems } = burnsFromCells(holed);
  expect(burns).toHaveLength(9);
  expect(problems.map((p) => p.code)).toContain('LEARN-ROW-LEFT-OUT');
  const without = cells.map((row) => row.filter((_, i) => i !== height));
  expect(burnsFromCells(without)).toMatchObject({ burns: [] });
  expect(burnsFromCells(without).problems.at(-1)).toMatchObject({ code: 'LEARN-LOG-COLUMNS', severity: 'stop' });
});
