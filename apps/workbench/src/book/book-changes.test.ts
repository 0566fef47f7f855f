import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bookChanges, doubtWords, logSdOfPercent, percentOfLogSd, placeWords } from './book-changes.js';
import { LEAVES } from './fields.js';
import { getAt, parsePath, pathWords, setAt } from './json-path.js';

const book: unknown = JSON.parse(
  readFileSync(new URL('../../../../shop/starting-shop-book.json', import.meta.url), 'utf8'),
);

/** Paths of everything a planner can change. */
function entryPaths(at: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (typeof at !== 'object' || at === null) return [path];
  if ('value' in at && 'source' in at) return [path];
  return Object.entries(at).flatMap(([key, inner]) =>
    entryPaths(inner, [...path, Array.isArray(at) ? Number(key) : key]),
  );
}

test('every field of the book has a label on some leaf', () => {
  const known = new Set(LEAVES.flatMap((leaf) => leaf.fields.map((f) => f.key)));
  const missing = entryPaths(book)
    .map((path) => [...path].reverse().find((step) => typeof step === 'string'))
    .filter((key) => !known.has(String(key)) && key !== 'startHoleSizesMm')
    .filter((key) => getAt(book, ['rates', 'materialPricePerKg', String(key)]) === undefined);
  expect(missing).toEqual([]);
});

test('equal books have no changes, and any change of an entry is told', () => {
  expect(bookChanges(book, structuredClone(book))).toEqual([]);
  const paths = entryPaths(book);
  fc.assert(
    fc.property(fc.constantFrom(...paths), (path) => {
      const was = getAt(book, path);
      const is =
        typeof was === 'number'
          ? was + 1
          : typeof was === 'string'
            ? `${was}x`
            : typeof was === 'boolean'
              ? !was
              : was === null
                ? { value: 1, source: 'shop-invented' }
                : { ...(was as object), value: (was as { value: number }).value * 1.5 + 1 };
      expect(bookChanges(book, setAt(book, path, is)).length).toBeGreaterThan(0);
    }),
  );
});

test('changes read as sentences with the change in percent', () => {
  const dearer = setAt(book, ['rates', 'labourPerH', 'value'], 50.6);
  expect(bookChanges(book, dearer)).toEqual([
    { leaf: 'Rates and times', says: 'Labour: 46 EUR/h became 50.6 EUR/h (+10 %)' },
  ]);
  const without = setAt(book, ['wires', 0], undefined);
  expect(bookChanges(book, without)).toEqual([{ leaf: 'Wires', says: 'wire B10 removed (Hard brass wire 0.10)' }]);
});

test('a path and its words lead to each other', () => {
  const path = ['materials', 3, 'densityGPerCm3'];
  expect(parsePath(pathWords(path))).toEqual(path);
  expect(placeWords(['materials', 1, 'densityGPerCm3'], book)).toBe('Materials, D2, density');
  expect(setAt(book, path, 1)).not.toBe(book);
});

test('doubt is shown as an 80 % interval and read back', () => {
  expect(doubtWords(0.1)).toBe('±14 %');
  expect(percentOfLogSd(logSdOfPercent(20))).toBe(20);
});
