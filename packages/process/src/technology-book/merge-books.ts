import { type Problem, problem, type Result } from '@gapwright/base';
import { nextVersion } from '../next-version.js';
import { diffTechnologyBooks, type PointChange } from './diff-books.js';
import { TECHNOLOGY_QUANTITY_NAMES } from './quantities.js';
import type { TechnologyBook, TechnologyPoint } from './technology-point.js';

/** A book with new points in it, and what that changed. */
export interface MergedBook {
  readonly book: TechnologyBook;
  /** Version before; null for a new book. */
  readonly fromVersion: string | null;
  /** Empty when the book holds all the points already; its version then stays. */
  readonly changes: readonly PointChange[];
}

/** Things of one kind told by name; the rest are counted. */
const MOST_TOLD = 6;

/**
 * Puts points into a book and raises its version. A point whose id is in the book under the same source replaces the one there,
 * whose note is kept; no other point goes. Stops `TECH-MERGE-ID-TAKEN` (the id belongs to another source) and
 * `TECH-MERGE-SOURCE-WORDS` (the book has the source's id with other words). Warns `TECH-MERGE-DUPLICATE` (equal in everything
 * but id) and tells `TECH-MERGE-LEFT` (points of the same source that the import no longer has stay).
 */
export function mergeTechnologyBooks(into: TechnologyBook, points: readonly TechnologyPoint[]): Result<MergedBook> {
  const before = new Map(into.points.map((p) => [p.id, p]));
  const stops = [...takenIds(before, points), ...sourceWords(into.points, points)];
  if (stops.length > 0) return { value: null, problems: stops };
  const merged = new Map(before);
  for (const point of points) {
    const note = point.note ?? before.get(point.id)?.note;
    merged.set(point.id, note === undefined ? point : Object.freeze({ ...point, note }));
  }
  const kept = { ...into, points: Object.freeze([...merged.values()]) };
  const changes = diffTechnologyBooks(into, kept);
  const book = changes.length === 0 ? into : Object.freeze({ ...kept, version: nextVersion(into.version) });
  const problems = [...duplicates(into.points, points, before), ...left(into.points, points)];
  return { value: { book, fromVersion: into.version, changes }, problems };
}

/** A new book, version 1, of these points. */
export function newTechnologyBook(name: string, points: readonly TechnologyPoint[]): MergedBook {
  const book = Object.freeze({ name, version: '1', points: Object.freeze([...points]) });
  return { book, fromVersion: null, changes: diffTechnologyBooks({ ...book, points: [] }, book) };
}

function takenIds(before: ReadonlyMap<string, TechnologyPoint>, points: readonly TechnologyPoint[]): Problem[] {
  const taken = points.filter((p) => (before.get(p.id)?.source.id ?? p.source.id) !== p.source.id);
  if (taken.length === 0) return [];
  const owner = before.get(taken[0]!.id)!.source;
  const what = `${list(taken)} ${taken.length === 1 ? 'is' : 'are'} in the book already, from another source ("${owner.id}", ${owner.title})`;
  return [problem({ code: 'TECH-MERGE-ID-TAKEN', severity: 'stop', what, fix: 'Choose another idPrefix' })];
}

function sourceWords(old: readonly TechnologyPoint[], points: readonly TechnologyPoint[]): Problem[] {
  const known = new Map(old.map(({ source }) => [source.id, source]));
  const problems: Problem[] = [];
  for (const source of new Map(points.map((p) => [p.source.id, p.source])).values()) {
    const there = known.get(source.id);
    if (there === undefined) continue;
    for (const field of ['title', 'standing', 'where'] as const) {
      if (there[field] === source[field]) continue;
      const what = `The book has source "${source.id}" with ${field} "${there[field] ?? ''}", the import with "${source[field] ?? ''}"`;
      const fix = 'Use the same words, or another source id';
      problems.push(problem({ code: 'TECH-MERGE-SOURCE-WORDS', severity: 'stop', what, fix, at: { field } }));
    }
  }
  return problems;
}

function duplicates(
  old: readonly TechnologyPoint[],
  points: readonly TechnologyPoint[],
  byId: ReadonlyMap<string, TechnologyPoint>,
): Problem[] {
  const known = new Map(old.map((p) => [contentOf(p), p]));
  const pairs = points.flatMap((p) => {
    const same = known.get(contentOf(p));
    return same === undefined || byId.has(p.id) ? [] : [`${p.id} as ${same.id}`];
  });
  if (pairs.length === 0) return [];
  const more = pairs.length > MOST_TOLD ? ` and ${pairs.length - MOST_TOLD} more` : '';
  const what = `Burns are in the book already under another id: ${pairs.slice(0, MOST_TOLD).join(', ')}${more}`;
  const fix = 'Counted twice they make estimates look surer than they are; take one of them out';
  return [problem({ code: 'TECH-MERGE-DUPLICATE', severity: 'warn', what, fix })];
}

function left(old: readonly TechnologyPoint[], points: readonly TechnologyPoint[]): Problem[] {
  const ids = new Set(points.map((p) => p.id));
  const sources = new Set(points.map((p) => p.source.id));
  const staying = old.filter((p) => sources.has(p.source.id) && !ids.has(p.id));
  if (staying.length === 0 || !old.some((p) => ids.has(p.id))) return [];
  const what = `${list(staying)} of the same source ${staying.length === 1 ? 'is' : 'are'} not in this table and stay${staying.length === 1 ? 's' : ''} in the book`;
  const fix = 'Take out of the book by hand what no longer holds';
  return [problem({ code: 'TECH-MERGE-LEFT', severity: 'info', what, fix })];
}

function contentOf(p: TechnologyPoint): string {
  const values = TECHNOLOGY_QUANTITY_NAMES.map((name) => p.conditions[name] ?? p.results[name] ?? '');
  return JSON.stringify([p.process, p.material.toLowerCase(), p.tool.toLowerCase(), ...values]);
}

function list(points: readonly TechnologyPoint[]): string {
  const shown = points.slice(0, MOST_TOLD).map((p) => p.id);
  return `${shown.join(', ')}${points.length > shown.length ? ` and ${points.length - shown.length} more` : ''}`;
}
