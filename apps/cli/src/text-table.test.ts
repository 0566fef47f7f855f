import { expect, test } from 'vitest';
import { textTable, wrap } from './text-table.js';

test('lines keep their indent and stay within the width', () => {
  expect(wrap('  one two three four', 10, '    ')).toBe('  one two\n    three\n    four');
  expect(wrap('word', 2)).toBe('word');
  expect(wrap('a verylongwordindeed b', 6)).toBe('a\nverylongwordindeed\nb');
});

test('columns line up', () => {
  expect(
    textTable(
      ['a', 'n'],
      [
        ['x', '1'],
        ['long', '22'],
      ],
    ),
  ).toBe('a      n\n----  --\nx      1\nlong  22');
});
