import { fileURLToPath } from 'node:url';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { IN825_MAPPING, readCells, TI13_MAPPING } from '../testing/published-tables.js';
import { parseTechnologyBook, technologyBookText } from './book-file.js';
import { diffTechnologyBooks } from './diff-books.js';
import { importTechnologyPoints } from './import-points.js';
import type { TechnologyBook } from './technology-point.js';

const points = [
  ...importTechnologyPoints(readCells('sinker-ti13zr13nb-graphite.csv'), TI13_MAPPING).value!,
  ...importTechnologyPoints(readCells('in825-box-behnken.csv'), IN825_MAPPING).value!,
];
const book: TechnologyBook = { name: 'Published burns', version: '1', points };
const STARTING_BOOK = new URL('../../../../shop/starting-technology-book.json', import.meta.url);
const says = (a: TechnologyBook, b: TechnologyBook) => diffTechnologyBooks(a, b).map((c) => c.says);

describe('technology book file', () => {
  it('reads back what it wrote', () => {
    const { value, problems } = parseTechnologyBook(JSON.parse(technologyBookText(book)));
    expect(problems).toEqual([]);
    expect(value!.points).toHaveLength(45);
    expect(diffTechnologyBooks(book, value!)).toEqual([]);
    expect(technologyBookText(value!)).toBe(technologyBookText(book));
  });

  it('is the starting book of the shop', async () => {
    await expect(technologyBookText(book)).toMatchFileSnapshot(fileURLToPath(STARTING_BOOK));
  });

  it('is the same text for any order of points and fields', () => {
    fc.assert(
      fc.property(fc.shuffledSubarray(points, { minLength: points.length }), (shuffled) => {
        const turned = shuffled.map((p) => ({
          ...p,
          conditions: Object.fromEntries(Object.entries(p.conditions).reverse()),
        }));
        expect(technologyBookText({ ...book, points: turned })).toBe(technologyBookText(book));
      }),
      { numRuns: 20 },
    );
  });

  it('holds one value per line, so that a line comparison shows the change', () => {
    const changed = {
      ...book,
      points: points.map((p, k) => (k === 4 ? { ...p, results: { ...p.results, raUm: 9 } } : p)),
    };
    const a = technologyBookText(book).split('\n');
    const b = technologyBookText(changed).split('\n');
    expect(a.filter((line, k) => line !== b[k])).toHaveLength(1);
  });

  it.each([
    ['TECH-BOOK-SHAPE', (j: Json): void => void delete j.name],
    ['TECH-BOOK-SHAPE', (j: Json): void => void (j.points[0]!.process = 'laser')],
    ['TECH-BOOK-SHAPE', (j: Json): void => void (j.points[0]!.colour = 'red')],
    ['TECH-BOOK-ID-TWICE', (j: Json): void => void (j.points[1]!.id = j.points[0]!.id)],
    ['TECH-BOOK-SOURCE', (j: Json): void => void (j.points[0]!.source = 'nobody')],
    ['TECH-BOOK-SOURCE', (j: Json): void => void (j.sources[0]!.title = 'Other words')],
    ['TECH-BOOK-QUANTITY', (j: Json): void => void (j.points[0]!.conditions.raUm = 3)],
    ['TECH-BOOK-QUANTITY', (j: Json): void => void (j.points[0]!.results.banana = 3)],
    ['TECH-BOOK-IMPOSSIBLE', (j: Json): void => void (j.points[0]!.results.raUm = 5000)],
  ] as const)('refuses with %s', (code, damage) => {
    const json = JSON.parse(technologyBookText(book)) as Json;
    damage(json);
    const { value, problems } = parseTechnologyBook(json);
    expect(value).toBeNull();
    expect(problems.map((p) => p.code)).toEqual([code]);
  });
});

interface Json {
  name?: string;
  sources: { title: string }[];
  points: {
    id: string;
    process: string;
    colour?: string;
    source: string;
    conditions: Record<string, number>;
    results: Record<string, number>;
  }[];
}

describe('comparing books', () => {
  it('says in words what came, went and changed, in stable order', () => {
    const [first, second, ...rest] = points;
    const changed = { ...second!, results: { ...second!.results, raUm: second!.results.raUm! * 1.1 }, tool: 'copper' };
    const added = { ...first!, id: 'zz-1', note: 'new' };
    const b = { ...book, points: [added, ...rest, changed] };
    const list = says(book, b);
    expect(list).toEqual([
      expect.stringMatching(
        /^ti13-0002 removed: sinking Ti-13Zr-13Nb with graphite at open voltage 70 V, pulse current 8 A/,
      ),
      expect.stringMatching(
        /^ti13-0003 changed: tool "graphite" became "copper"; Ra 14\.717 became 16\.1887 um \(\+10 %\)$/,
      ),
      expect.stringMatching(/^zz-1 added: sinking Ti-13Zr-13Nb/),
    ]);
    expect(says(b, book).map((s) => s.split(' ')[1])).toEqual(['added:', 'changed:', 'removed:']);
  });

  it('is empty exactly for equal points', () => {
    fc.assert(
      fc.property(
        fc.nat(points.length - 1),
        fc.constantFrom('note', 'source', 'conditions', 'material'),
        (k, field) => {
          const p = points[k]!;
          const altered = {
            note: { ...p, note: 'seen' },
            source: { ...p, source: { ...p.source, standing: 'from memory' as const } },
            conditions: { ...p, conditions: { ...p.conditions, depthMm: 3 } },
            material: { ...p, material: 'other' },
          }[field];
          const b = { ...book, points: points.map((q, i) => (i === k ? altered : q)) };
          expect(diffTechnologyBooks(book, b)).toHaveLength(1);
          expect(diffTechnologyBooks(book, { ...book, points: [...points].reverse() })).toEqual([]);
        },
      ),
      { numRuns: 50 },
    );
  });
});
