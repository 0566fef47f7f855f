import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { runCommandLine } from './command-line.js';

const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
const CSV = join(ROOT, 'demo/technology-import.csv');
const MAP = join(ROOT, 'demo/technology-map.json');
const XLSX = join(ROOT, 'fixtures/technology/burns.xlsx');
const STARTING_BOOK = join(ROOT, 'shop/starting-technology-book.json');
const csv = readFileSync(CSV, 'utf8');
const map = readFileSync(MAP, 'utf8');

let dir = '';
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'gapwright-book-'));
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

const write = (name: string, content: string | Uint8Array): string => {
  const path = join(dir, name);
  writeFileSync(path, content);
  return path;
};

describe('bad input of the book commands gives one clear sentence and exit code 2', () => {
  const estimate = (...more: string[]) => ['book', 'estimate', STARTING_BOOK, '--material', 'Inconel 825', ...more];
  const cases: readonly [string, () => string[], RegExp][] = [
    ['half a command', () => ['book'], /followed by import, compare, estimate/],
    ['a slip in the second word', () => ['book', 'imprt', CSV], /Did you mean import\?/],
    ['no map', () => ['book', 'import', CSV], /Give --map MAP\.json/],
    ['a map that is not there', () => ['book', 'import', CSV, '--map', 'nowhere.json'], /nowhere\.json does not exist/],
    ['a map that is not JSON', () => importWith('x.json', '{'), /x\.json is not JSON/],
    [
      'a map without a unit',
      () => importWith('u.json', map.replace(', "unit": "A"', '')),
      /columns\.0\.unit is missing/,
    ],
    [
      'an unknown field of a map',
      () => importWith('f.json', map.replace('"process"', '"proces"')),
      /process is missing/,
    ],
    [
      'an unknown quantity',
      () => importWith('q.json', map.replace('currentA', 'amps')),
      /is "amps"; the quantities are/,
    ],
    [
      'material as bare text',
      () => importWith('m.json', map.replace('{ "text": "H13" }', '"H13"')),
      /material must be \{/,
    ],
    ['another format of map', () => importWith('n.json', map.replace('Map": 1', 'Map": 2')), /TechnologyMap must be 1/],
    ['a source that is not theirs', () => importWith('s.json', map.replace('demo-burns', 'job')), /id "job" is taken/],
    ['a folder to write to', () => ['book', 'import', CSV, '--map', MAP, '--out', dir], /is a folder/],
    [
      'a place that cannot be',
      () => ['book', 'import', CSV, '--map', MAP, '--out', '/proc/none/b.json'],
      /b\.json cannot/,
    ],
    ['an unknown column', () => importWith('c.json', map.replace('I (A)', 'I')), /no column "I".*"I \(A\)"/],
    ['an unknown unit', () => importWith('k.json', map.replace('"unit": "A"', '"unit": "amp"')), /"amp" is not a unit/],
    [
      'a unit of another kind',
      () => importWith('o.json', map.replace('"unit": "A"', '"unit": "mm"')),
      /mm is a length/,
    ],
    ['no density', () => importWith('d.json', map.replace(', "densityGPerCm3": 7.76', '')), /State the density/],
    ['two columns of one name', () => importOf('two.csv', csv.replace('on (us)', 'I (A)')), /more than one column "I/],
    ['an empty file', () => importOf('empty.csv', ''), /empty\.csv is empty/],
    ['an empty workbook', () => importOf('empty.xlsx', ''), /empty\.xlsx is empty/],
    ['a header alone', () => importOf('head.csv', csv.split('\n')[0]!), /no rows under its header/],
    ['a blank first line', () => importOf('blank.csv', `\n${csv}`), /first line of .* is blank/],
    [
      'uneven rows',
      () => importOf('uneven.csv', `${csv}B16,graphite,8,5,0\n`),
      /line 17 has 5 cells, the header has 8/,
    ],
    ['an open quote', () => importOf('quote.csv', `${csv}"B16,graphite\n`), /quote/i],
    ['no text', () => importOf('zero.csv', 'a\u0000,b\n'), /is not a text file/],
    ['an old code page', () => importOf('cp.csv', Uint8Array.of(0xb5, 0x73, 0x2c, 0x41, 0x0a)), /is not UTF-8 text/],
    ['a workbook that is none', () => importOf('csv.xlsx', csv), /The workbook cannot be read/],
    ['a damaged workbook', () => importOf('cut.xlsx', readFileSync(XLSX).subarray(0, 700)), /cannot be read/],
    ['no such sheet', () => ['book', 'import', XLSX, '--map', MAP, '--sheet', 'Sheet9'], /Sheet9/],
    ['the wrong sheet', () => ['book', 'import', XLSX, '--map', MAP], /no column "I \(A\)".*"note"/],
    [
      'a sheet of a CSV',
      () => ['book', 'import', CSV, '--map', MAP, '--sheet', 'burns'],
      /--sheet goes with a workbook/,
    ],
    [
      'a shop book for a book',
      () => ['book', 'compare', STARTING_BOOK, MAP],
      /technology-map\.json is no technology book/,
    ],
    [
      'a book of another format',
      () => ['book', 'compare', STARTING_BOOK, write('v9.json', '{"format":"x"}')],
      /format/,
    ],
    [
      'a name for an old book',
      () => ['book', 'import', CSV, '--map', MAP, '--into', STARTING_BOOK, '--name', 'B'],
      /--name/,
    ],
    ['one book', () => ['book', 'compare', STARTING_BOOK], /takes A\.json B\.json/],
    ['no material', () => ['book', 'estimate', STARTING_BOOK], /Give --material ID/],
    ['a response that is none', () => estimate('--response', 'speed', '--at', 'currentA=3'), /speed is no result/],
    [
      'a condition as response',
      () => estimate('--response', 'currentA', '--at', 'currentA=3'),
      /currentA is no result/,
    ],
    ['a condition without unit', () => estimate('--response', 'ra', '--at', 'current=3'), /"current" is no condition/],
    ['a condition twice', () => estimate('--response', 'ra', '--at', 'currentA=3,current_a=4'), /currentA twice/],
    ['no number', () => estimate('--response', 'ra', '--at', 'currentA=3x'), /3x is not a number/],
    ['a decimal comma', () => estimate('--response', 'ra', '--at', 'currentA=3,5'), /"5" is no condition/],
    ['nothing after the sign', () => estimate('--response', 'ra', '--at', 'currentA='), /empty entry/],
    ['zero', () => estimate('--response', 'ra', '--at', 'currentA=0'), /above 0/],
    [
      'a condition left out',
      () => estimate('--response', 'ra', '--at', 'currentA=3'),
      /states none\. State the on-time/,
    ],
    [
      'an unknown process',
      () => estimate('--response', 'ra', '--at', 'currentA=3', '--process', 'laser'),
      /laser is not/,
    ],
  ];
  const importOf = (name: string, content: string | Uint8Array) => [
    'book',
    'import',
    write(name, content),
    '--map',
    MAP,
  ];
  const importWith = (name: string, mapping: string) => ['book', 'import', CSV, '--map', write(name, mapping)];

  test.each(cases)('%s', async (_name, argv, message) => {
    const { exitCode, stderr, stdout } = await runCommandLine(argv());
    expect(stderr).toMatch(message);
    expect(exitCode).toBe(2);
    expect(stderr.trim().split('\n')).toHaveLength(1);
    expect(stdout).toBe('');
  });
});
