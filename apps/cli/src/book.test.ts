import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { jsonSchemas } from '@gapwright/job';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { type Finished, runCommandLine } from './command-line.js';

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

const run = (...argv: string[]): Promise<Finished> => runCommandLine(argv);
const write = (name: string, content: string | Uint8Array): string => {
  const path = join(dir, name);
  writeFileSync(path, content);
  return path;
};
/** Runs with --json, checks the answer against its published schema, and hands it on. */
async function json(...argv: string[]): Promise<{ exitCode: number; document: Document }> {
  const { exitCode, stdout } = await run(...argv, '--json');
  const document = JSON.parse(stdout) as Document;
  const schema = jsonSchemas()[document.document.replace(/^gapwright-|-\d+$/g, '')]!;
  const validate = new Ajv2020({ allErrors: true, strict: false }).compile(schema);
  validate(document);
  expect(validate.errors ?? []).toEqual([]);
  return { exitCode, document };
}

interface Point {
  readonly id: string;
  readonly conditions: Record<string, number>;
  readonly results: Record<string, number>;
  readonly source: { readonly id: string };
}

interface Document {
  readonly document: string;
  readonly points: readonly Point[];
  readonly book: { readonly fromVersion: string | null; readonly toVersion: string; readonly out: string | null };
  readonly changes: readonly { readonly kind: string; readonly id: string; readonly says: string }[];
  readonly problems: readonly { readonly code: string; readonly severity: string; readonly message: string }[];
  readonly meltEnergyJPerMm3: number | null;
  readonly estimate: { id: string; value: number; low: number; high: number; reasons: string[] } | null;
  readonly nearest: readonly Point[];
  readonly figures: Record<string, { source: string }>;
  readonly sources: Record<string, { id: string; standing: string }>;
}

const importInto = (book: string, file = CSV) => [
  ...['book', 'import', file, '--map', MAP, '--out', book],
  ...(existsSync(book) ? ['--into', book] : []),
];

describe('book import', () => {
  test('takes a CSV, says what is odd, and writes the canonical book', async () => {
    const out = join(dir, 'csv.json');
    const { exitCode, document } = await json('book', 'import', CSV, '--map', MAP, '--out', out);
    expect(exitCode).toBe(0);
    expect(document.points).toHaveLength(15);
    const first = document.points[0]!;
    expect(first.id).toBe('demo-h13-0002');
    expect(first.conditions).toEqual({ currentA: 4, onTimeUs: 20, offTimeUs: 20 });
    // 7.65 g/h of 7.76 g/cm3, 20.2 %.
    expect(first.results.removalMm3PerMin).toBeCloseTo(7650 / 60 / 7.76, 8);
    expect(first.results.wearRatio).toBeCloseTo(0.202, 12);
    expect(document.problems.map((p) => p.code)).toEqual(['TECH-DUPLICATE', 'TECH-REPLICATES']);
    expect(document.problems[0]!.message).toContain('Rows 6, 16 are equal');
    // H13 of the shop book: the rates were held against the ceiling.
    expect(document.meltEnergyJPerMm3).toBeGreaterThan(5);
    expect(document.book).toMatchObject({ fromVersion: null, toVersion: '1', out });
    const again = join(dir, 'again.json');
    await run('book', 'import', CSV, '--map', MAP, '--out', again);
    expect(readFileSync(again, 'utf8')).toBe(readFileSync(out, 'utf8'));
    expect(readdirSync(dir).filter((name) => name.endsWith('.part'))).toEqual([]);
  });

  test('a workbook gives the same points as the CSV', async () => {
    const a = await json('book', 'import', CSV, '--map', MAP);
    const b = await json('book', 'import', XLSX, '--sheet', 'burns', '--map', MAP);
    expect(b.document.points).toEqual(a.document.points);
    expect(b.document.problems).toEqual(a.document.problems);
  });

  test('semicolons, decimal commas, a mark and blank rows: the same points', async () => {
    const lines = csv.trim().replaceAll(',', ';').replaceAll('.', ',').split('\n');
    const european = write('eu.csv', `\uFEFF${[...lines, '', ''].join('\r\n')}`);
    const mapping = write('eu-map.json', JSON.stringify({ ...JSON.parse(map), decimal: ',' }));
    const a = await json('book', 'import', CSV, '--map', MAP);
    const b = await json('book', 'import', european, '--map', mapping);
    expect(b.document.points).toEqual(a.document.points);
    // A blank row keeps its number, so that ids stay those of the file.
    const gap = write('gap.csv', csv.replace('\nB02', '\n\nB02'));
    const c = await json('book', 'import', gap, '--map', MAP);
    expect(c.document.points.slice(0, 2).map((p) => p.id)).toEqual(['demo-h13-0002', 'demo-h13-0004']);
  });

  test('tells every finding of a table that cannot be taken, and writes nothing', async () => {
    const out = join(dir, 'impossible.json');
    const wrong = write('ms.json', map.replaceAll('"us" }', '"ms" }'));
    const { exitCode, stdout, stderr } = await run('book', 'import', CSV, '--map', wrong, '--out', out);
    expect(exitCode).toBe(2);
    expect(stdout.match(/TECH-UNIT-IMPOSSIBLE/g)).toHaveLength(2);
    expect(stdout).toContain('TECH-DUPLICATE');
    expect(stderr).toMatch(/2 findings stop the import; nothing is written\..*"ms" is stated, us would fit/);
    expect(stderr.trim().split('\n')).toHaveLength(1);
    expect(existsSync(out)).toBe(false);
  });

  test('holds rates against the energy ceiling of the shop book’s material', async () => {
    const wrong = write('kg.json', map.replace('"g/h"', '"kg/h"'));
    const { exitCode, document } = await json('book', 'import', CSV, '--map', wrong);
    expect(exitCode).toBe(2);
    expect(document.problems.map((p) => p.code)).toContain('TECH-ABOVE-CEILING');
    expect(document.points).toEqual([]);
  });

  test('warns of results that follow a formula', async () => {
    const rows = [4, 8, 16].flatMap((i) =>
      [20, 50, 100].flatMap((on) =>
        [20, 40].map((off) => [i, on, off, (i * 0.13 + on * 0.017 + off * 0.011).toFixed(3)]),
      ),
    );
    const file = write('fit.csv', [['I', 'on', 'off', 'Ra'], ...rows].join('\n'));
    const columns = [
      { header: 'I', quantity: 'currentA', unit: 'A' },
      { header: 'on', quantity: 'onTimeUs', unit: 'us' },
      { header: 'off', quantity: 'offTimeUs', unit: 'us' },
      { header: 'Ra', quantity: 'raUm', unit: 'um' },
    ];
    const mapping = write('fit.json', JSON.stringify({ ...JSON.parse(map), tool: { text: 'copper' }, columns }));
    const { exitCode, document } = await json('book', 'import', file, '--map', mapping);
    expect([exitCode, document.problems.map((p) => p.code)]).toEqual([0, ['TECH-FITTED']]);
  });

  test('adds to a book, replaces on a second import, and leaves it when nothing is new', async () => {
    const book = write('book.json', readFileSync(STARTING_BOOK, 'utf8'));
    expect((await json(...importInto(book))).document.book).toMatchObject({ fromVersion: '1', toVersion: '2' });
    const merged = readFileSync(book, 'utf8');
    expect((await json(...importInto(book))).document).toMatchObject({ book: { toVersion: '2' }, changes: [] });
    expect(readFileSync(book, 'utf8')).toBe(merged);
    const corrected = write('corrected.csv', csv.replace('11.84,3.1,', '11.84,3.4,'));
    // The same map on another table would take the place of the first: asked for, never done by itself.
    const asked = await run(...importInto(book, corrected));
    expect(asked.exitCode).toBe(2);
    expect(asked.stderr).toContain('has burn demo-h13-0004, with other values; nothing is written. Give --replace');
    expect(asked.stdout).toContain('Ra 3.1 became 3.4 um');
    expect(readFileSync(book, 'utf8')).toBe(merged);
    const { document } = await json(...importInto(book, corrected), '--replace');
    expect(document.book.toVersion).toBe('3');
    expect(readFileSync(book, 'utf8')).not.toBe(merged);
    expect(document.changes.map((c) => c.says)).toEqual(['demo-h13-0004 changed: Ra 3.1 became 3.4 um (+9.68 %)']);
  });

  test('never writes over another file, and loses nothing when it fails', async () => {
    const book = write('keep.json', readFileSync(STARTING_BOOK, 'utf8'));
    const over = await run('book', 'import', CSV, '--map', MAP, '--out', book);
    expect([over.exitCode, over.stderr]).toEqual([2, expect.stringContaining('is there already')]);
    const other = await run('book', 'import', CSV, '--map', MAP, '--into', STARTING_BOOK, '--out', book);
    expect(other.exitCode).toBe(2);
    const taken = write('taken.json', JSON.stringify({ ...JSON.parse(map), idPrefix: 'in825' }));
    const clash = await run('book', 'import', CSV, '--map', taken, '--into', book, '--out', book);
    expect([clash.exitCode, clash.stderr]).toEqual([2, expect.stringContaining('Choose another idPrefix')]);
    expect(readFileSync(book, 'utf8')).toBe(readFileSync(STARTING_BOOK, 'utf8'));
    const dry = await run('book', 'import', CSV, '--map', MAP, '--into', book);
    expect(dry.stdout).toContain('Nothing is written yet');
    expect(readFileSync(book, 'utf8')).toBe(readFileSync(STARTING_BOOK, 'utf8'));
  });
});

describe('from import to estimate', () => {
  test('what was imported is what differs, and what is estimated from', async () => {
    const book = write('round.json', readFileSync(STARTING_BOOK, 'utf8'));
    await run(...importInto(book));
    const compared = await json('book', 'compare', STARTING_BOOK, book);
    expect(compared.exitCode).toBe(0);
    expect(compared.document.changes.map((c) => c.kind)).toEqual(Array.from({ length: 15 }, () => 'added'));
    expect((await json('book', 'compare', book, book)).document.changes).toEqual([]);

    // At a setting burned three times: 59.1 to 62.6 mm3/min.
    const at = 'pulse_on_us=50,current_A=8,off_time_us=20';
    const { exitCode, document } = await json(
      ...['book', 'estimate', book, '--material', 'h13', '--response', 'rate', '--at', at],
    );
    expect(exitCode).toBe(0);
    const { value, low, high, id, reasons } = document.estimate!;
    expect(value).toBeGreaterThan(55);
    expect(value).toBeLessThan(66);
    expect(low).toBeLessThan(59.1);
    expect(high).toBeGreaterThan(62.6);
    expect(reasons[0]).toContain('[shop: Invented burns of the demo]');
    expect(document.sources[document.figures[id]!.source]!.id).toBe('demo-burns');
    expect(document.nearest).toHaveLength(5);
    expect(document.nearest[0]!.conditions).toEqual({ currentA: 8, onTimeUs: 50, offTimeUs: 20 });
    expect(document.nearest.every((p) => p.source.id === 'demo-burns')).toBe(true);

    const saved = write('estimate.json', JSON.stringify(document));
    const why = await run('why', 'estimate', saved);
    expect([why.exitCode, why.stdout]).toEqual([0, expect.stringContaining('interpolated between 15 points')]);
  });

  test('refuses far from the data with the sentence, the nearest burns and exit code 1', async () => {
    const argv = ['book', 'estimate', STARTING_BOOK, '--material', 'Inconel 825', '--response', 'ra'];
    const at = ['--at', 'currentA=200,onTimeUs=50,offTimeUs=10'];
    const { exitCode, stdout, stderr } = await run(...argv, ...at);
    expect([exitCode, stderr]).toEqual([1, '']);
    expect(stdout).toContain('The points cover pulse current 1 to 5 A; 200 A lies far outside');
    expect(stdout).toContain('in825-');
    const { document } = await json(...argv, ...at);
    expect(document.estimate).toBeNull();
    expect(document.problems.map((p) => p.code)).toEqual(['TECH-FAR-OUTSIDE']);
  });

  test('refuses a material without points and names those with', async () => {
    const argv = ['book', 'estimate', STARTING_BOOK, '--material', 'D2', '--response', 'ra', '--at', 'currentA=2'];
    const { exitCode, document } = await json(...argv);
    expect(exitCode).toBe(1);
    expect(document.problems[0]!.message).toContain('There is Inconel 825, Ti-13Zr-13Nb');
  });
});

test('asks for the tool where a material was burned with several', async () => {
  const both = write('both.csv', csv.replaceAll(/^(B0[1-7]),graphite/gm, '$1,copper'));
  const book = join(dir, 'both.json');
  await run('book', 'import', both, '--map', MAP, '--out', book);
  const argv = ['book', 'estimate', book, '--material', 'H13', '--response', 'ra'];
  argv.push('--at', 'currentA=20,onTimeUs=150,offTimeUs=50');
  const asked = await run(...argv);
  expect(asked.exitCode).toBe(2);
  expect(asked.stderr).toContain('more than one tool: copper, graphite. Name the tool with --tool.');
  const { document } = await json(...argv, '--tool', 'Graphite');
  expect(document.estimate!.reasons[0]).toContain('interpolated between 8 points');
});

test('tables fit 100 columns', async () => {
  const book = write('wide.json', readFileSync(STARTING_BOOK, 'utf8'));
  const long = 'Removal rate as weighed after every burn (g/h)';
  const wide = write('wide.csv', csv.replace('rate (g/h)', long));
  const wideMap = write('wide-map.json', map.replace('rate (g/h)', long));
  const printed = [
    await run('book', 'import', wide, '--map', wideMap, '--into', book, '--out', book),
    await run('book', 'compare', STARTING_BOOK, book),
    await run(
      ...['book', 'estimate', book, '--material', 'Ti-13Zr-13Nb', '--response', 'wear'],
      ...['--at', 'open_voltage_V=60,current_A=10,pulse_on_us=20,pulse_off_us=8'],
    ),
  ];
  for (const { exitCode, stdout } of printed) {
    expect(exitCode).toBe(0);
    for (const line of stdout.split('\n')) expect(line.length, line).toBeLessThanOrEqual(100);
  }
});

test('the demo map fits its published schema', () => {
  const validate = new Ajv2020({ strict: false }).compile(jsonSchemas()['technology-map']!);
  validate(JSON.parse(map));
  expect(validate.errors ?? []).toEqual([]);
});

test('docs/technology-book.md shows what is printed', async () => {
  const page = readFileSync(join(ROOT, 'docs/technology-book.md'), 'utf8');
  expect(page).toContain(map.trim());
  const words = (text: string) => text.replaceAll(`${dir}/page/`, 'out/').split(/\s+/).join(' ').trim();
  const blocks = [...page.matchAll(/```console\n\$ npx gapwright (.*)\n([^`]*)```/g)];
  expect(blocks).toHaveLength(4);
  for (const [, command = '', shown = ''] of blocks) {
    const argv = [...command.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, bare]) => quoted ?? bare!);
    const { stdout } = await run(
      ...argv.map((word) => word.replace(/^out\//, `${dir}/page/`).replace(/^(demo|shop)\//, `${ROOT}$1/`)),
    );
    const printed = words(stdout.replaceAll(ROOT, ''));
    for (const part of shown.split('…')) expect(printed).toContain(words(part));
  }
});
