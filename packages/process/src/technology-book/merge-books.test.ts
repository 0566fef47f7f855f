import { describe, expect, it } from 'vitest';
import { IN825_MAPPING, readCells, TEST_SOURCE, TI13_MAPPING } from '../testing/published-tables.js';
import { choosePoints } from './choose-points.js';
import { diffTechnologyBooks } from './diff-books.js';
import { importTechnologyPoints } from './import-points.js';
import { interpolateTechnology } from './interpolate.js';
import { mergeTechnologyBooks, newTechnologyBook } from './merge-books.js';
import { nearestTechnologyPoints } from './nearest-points.js';
import type { TechnologyPoint } from './technology-point.js';

const ti = importTechnologyPoints(readCells('sinker-ti13zr13nb-graphite.csv'), TI13_MAPPING).value!;
const inconel = importTechnologyPoints(readCells('in825-box-behnken.csv'), IN825_MAPPING).value!;
const { book } = newTechnologyBook('Burns', ti);
const withRa = (p: TechnologyPoint, raUm: number): TechnologyPoint => ({ ...p, results: { ...p.results, raUm } });
const codes = (points: readonly TechnologyPoint[]) => mergeTechnologyBooks(book, points).problems.map((p) => p.code);

describe('putting points into a book', () => {
  it('adds new points under a raised version and leaves the old ones as they were', () => {
    const { value, problems } = mergeTechnologyBooks(book, inconel);
    expect(problems).toEqual([]);
    expect([book.version, value!.fromVersion, value!.book.version]).toEqual(['1', '1', '2']);
    expect(value!.book.points).toEqual([...ti, ...inconel]);
    expect(value!.changes.map((c) => c.kind)).toEqual(inconel.map(() => 'added'));
    expect(diffTechnologyBooks(book, value!.book)).toEqual(value!.changes);
  });

  it('keeps the version when nothing is new', () => {
    expect(mergeTechnologyBooks(book, ti).value).toEqual({ book, fromVersion: '1', changes: [] });
  });

  it('replaces a corrected point, keeps its note, and tells which points stay', () => {
    const noted = { ...book, points: book.points.map((p) => ({ ...p, note: 'new filter' })) };
    const { value, problems } = mergeTechnologyBooks(noted, [withRa(ti[0]!, 1.25)]);
    expect(value!.changes.map((c) => c.says)).toEqual([expect.stringContaining(`became 1.25 um`)]);
    expect(value!.book.points).toHaveLength(30);
    expect(value!.book.points[0]!.note).toBe('new filter');
    expect(problems.map((p) => p.code)).toEqual(['TECH-MERGE-LEFT']);
    expect(problems[0]!.message).toContain('and 23 more');
  });

  it('refuses an id of another source, and a source in other words', () => {
    expect(codes([{ ...ti[3]!, source: TEST_SOURCE }])).toEqual(['TECH-MERGE-ID-TAKEN']);
    expect(codes([{ ...ti[3]!, id: 'x', source: { ...ti[3]!.source, title: 'Other' } }])).toEqual([
      'TECH-MERGE-SOURCE-WORDS',
    ]);
    expect(mergeTechnologyBooks(book, [{ ...ti[3]!, source: TEST_SOURCE }]).value).toBeNull();
  });

  it('warns of a burn that is there under another id', () => {
    expect(codes([{ ...ti[3]!, id: 'again', source: TEST_SOURCE }])).toEqual(['TECH-MERGE-DUPLICATE']);
    expect(codes([{ ...withRa(ti[3]!, 1.25), id: 'other', source: TEST_SOURCE }])).toEqual([]);
  });
});

describe('choosing what a question is about', () => {
  const all = [...ti, ...inconel];
  const rate = ['removalMm3PerMin', 'areaRateMm2PerMin'] as const;

  it('fills in what the points leave no choice of', () => {
    const { value } = choosePoints(all, { material: 'inconel 825', results: rate });
    expect(value).toEqual({ process: 'sinking', tool: 'not stated', result: 'removalMm3PerMin' });
  });

  it.each([
    ['material', { material: 'D2', results: rate }, /There is Ti-13Zr-13Nb, Inconel 825/],
    ['process', { material: 'Inconel 825', results: rate, process: 'wire' as const }, /There is sinking/],
    ['tool', { material: 'Ti-13Zr-13Nb', results: rate, tool: 'copper' }, /There is graphite/],
    ['response', { material: 'Inconel 825', results: ['gapMm' as const] }, /There is removalMm3PerMin, raUm/],
  ])('says what there is when the %s is not', (field, wanted, message) => {
    const { value, problems } = choosePoints(all, wanted);
    expect(value).toBeNull();
    expect([problems[0]!.code, problems[0]!.at!.field]).toEqual(['TECH-NO-POINTS', field]);
    expect(problems[0]!.message).toMatch(message);
  });

  it('asks when there is a choice', () => {
    const copper = ti.map((p) => ({ ...p, id: `c-${p.id}`, tool: 'copper' }));
    const { problems } = choosePoints([...ti, ...copper], { material: 'Ti-13Zr-13Nb', results: rate });
    expect([problems[0]!.code, problems[0]!.at!.field]).toEqual(['TECH-POINTS-UNCLEAR', 'tool']);
    expect(problems[0]!.message).toContain('graphite, copper');
  });
});

describe('nearest points', () => {
  const at = (p: TechnologyPoint) =>
    ({ process: p.process, material: p.material, tool: p.tool, conditions: p.conditions, result: 'raUm' }) as const;

  it('a point is nearest to itself, and the order is that of the estimate', () => {
    for (const p of inconel) {
      const [nearest] = nearestTechnologyPoints([...ti, ...inconel], at(p), 3);
      expect(nearest!.conditions).toEqual(p.conditions);
      const { reason } = interpolateTechnology(inconel, at(p)).value!;
      expect(reason.kind === 'given' && reason.says).toContain(`the nearest is ${nearest!.id}`);
    }
  });

  it('is there where the estimate refuses', () => {
    const query = { ...at(inconel[0]!), conditions: { ...inconel[0]!.conditions, currentA: 500 } };
    expect(interpolateTechnology(inconel, query).value).toBeNull();
    const nearest = nearestTechnologyPoints(inconel, query, 4);
    expect(nearest.map((p) => p.conditions.currentA)).toEqual([5, 5, 5, 5]);
  });
});
