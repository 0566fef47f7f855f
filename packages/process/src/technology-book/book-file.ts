import { allSources, defineSource, type Problem, problem, type Result, type Source } from '@gapwright/base';
import { z } from 'zod';
import { roleOf, TECHNOLOGY_QUANTITIES, TECHNOLOGY_QUANTITY_NAMES, type TechnologyQuantity } from './quantities.js';
import type { QuantityValues, TechnologyBook, TechnologyPoint } from './technology-point.js';

const FORMAT = 'technology-book-1';

const sourceSchema = z.strictObject({
  id: z.string().min(1),
  title: z.string().min(1),
  standing: z.enum(['published', 'from memory', 'common practice', 'computed', 'shop', 'job']),
  where: z.string().optional(),
});

const pointSchema = z.strictObject({
  id: z.string().min(1),
  process: z.enum(['wire', 'sinking', 'small-hole']),
  material: z.string().min(1),
  tool: z.string().min(1),
  conditions: z.record(z.string(), z.number()),
  results: z.record(z.string(), z.number()),
  source: z.string().min(1),
  note: z.string().optional(),
});

const bookSchema = z.strictObject({
  format: z.literal(FORMAT),
  name: z.string().min(1),
  version: z.string().min(1),
  sources: z.array(sourceSchema),
  points: z.array(pointSchema),
});

const byId = (a: { readonly id: string }, b: { readonly id: string }): number =>
  a.id < b.id ? -1 : a.id > b.id ? 1 : 0;

/** Quantities in the order of the quantity list, so that equal points give equal text. */
function ordered(values: QuantityValues): Record<string, number> {
  const out: Record<string, number> = {};
  for (const name of TECHNOLOGY_QUANTITY_NAMES) {
    const value = values[name];
    if (value !== undefined) out[name] = value;
  }
  return out;
}

function pointJson(p: TechnologyPoint): Record<string, unknown> {
  return {
    id: p.id,
    process: p.process,
    material: p.material,
    tool: p.tool,
    conditions: ordered(p.conditions),
    results: ordered(p.results),
    source: p.source.id,
    ...(p.note === undefined ? {} : { note: p.note }),
  };
}

/**
 * The book as canonical JSON text: points by id, fields and quantities in a fixed order, one value per line. Equal books give
 * equal text, and a line-by-line comparison shows what changed.
 */
export function technologyBookText(book: TechnologyBook): string {
  const sources = new Map(book.points.map((p) => [p.source.id, p.source]));
  const json = {
    format: FORMAT,
    name: book.name,
    version: book.version,
    sources: [...sources.values()]
      .sort(byId)
      .map(({ id, title, standing, where }) => ({ id, title, standing, ...(where === undefined ? {} : { where }) })),
    points: [...book.points].sort(byId).map(pointJson),
  };
  return `${JSON.stringify(json, null, 2)}\n`;
}

/**
 * Reads a technology book from parsed JSON. Stops `TECH-BOOK-SHAPE` (wrong fields, with the JSON path), `TECH-BOOK-ID-TWICE`,
 * `TECH-BOOK-SOURCE` (a point names no listed source, or a source is declared elsewhere with other words),
 * `TECH-BOOK-QUANTITY` (unknown quantity, or a condition among the results) and `TECH-BOOK-IMPOSSIBLE`.
 */
export function parseTechnologyBook(json: unknown): Result<TechnologyBook> {
  const parsed = bookSchema.safeParse(json);
  const problems: Problem[] = [];
  const stop = (code: string, what: string, fix: string, field: string): void => {
    problems.push(problem({ code, severity: 'stop', what, fix, at: { field } }));
  };
  if (!parsed.success) {
    for (const issue of parsed.error.issues) {
      const path = issue.path.join('.') || '(top)';
      stop('TECH-BOOK-SHAPE', `${path}: ${issue.message}`, 'Correct the technology book file', path);
    }
    return { value: null, problems };
  }
  const { sources, points, name, version } = parsed.data;
  const known = new Map<string, TechnologyPoint['source']>();
  for (const { id, title, standing, where } of sources) {
    const source = { id, title, standing, ...(where === undefined ? {} : { where }) };
    known.set(id, source);
    const clash = sourceClash(source);
    if (clash !== null) stop('TECH-BOOK-SOURCE', clash, 'Give the source another id', `sources.${id}`);
  }
  const seen = new Set<string>();
  const out: TechnologyPoint[] = [];
  points.forEach((p, k) => {
    const path = `points.${k}`;
    if (seen.has(p.id))
      stop(
        'TECH-BOOK-ID-TWICE',
        `${path}: the id "${p.id}" is there twice`,
        'Give each point its own id',
        `${path}.id`,
      );
    seen.add(p.id);
    const source = known.get(p.source);
    if (source === undefined) {
      stop('TECH-BOOK-SOURCE', `${path}: no source "${p.source}" is listed`, 'List it under sources', `${path}.source`);
      return;
    }
    const conditions = checked(p.conditions, 'condition', p.process, path, stop);
    const results = checked(p.results, 'result', p.process, path, stop);
    const note = p.note === undefined ? {} : { note: p.note };
    out.push(
      Object.freeze({
        id: p.id,
        process: p.process,
        material: p.material,
        tool: p.tool,
        conditions,
        results,
        source,
        ...note,
      }),
    );
  });
  if (problems.length > 0) return { value: null, problems };
  return { value: Object.freeze({ name, version, points: Object.freeze(out) }), problems };
}

function checked(
  values: Readonly<Record<string, number>>,
  role: 'condition' | 'result',
  process: TechnologyPoint['process'],
  path: string,
  stop: (code: string, what: string, fix: string, field: string) => void,
): QuantityValues {
  const out: Partial<Record<TechnologyQuantity, number>> = {};
  for (const [name, value] of Object.entries(values)) {
    const at = `${path}.${role}s.${name}`;
    if (!Object.hasOwn(TECHNOLOGY_QUANTITIES, name) || roleOf(name as TechnologyQuantity) !== role) {
      const names = TECHNOLOGY_QUANTITY_NAMES.filter((q) => roleOf(q) === role).join(', ');
      stop('TECH-BOOK-QUANTITY', `${at} is no ${role}`, `Use one of ${names}`, at);
      continue;
    }
    const quantity = name as TechnologyQuantity;
    const { unit, possible } = TECHNOLOGY_QUANTITIES[quantity];
    const [low, high] = possible[process];
    if (!(value >= low && value <= high)) {
      stop(
        'TECH-BOOK-IMPOSSIBLE',
        `${at} is ${value} ${unit}; ${process} work has ${low} to ${high}`,
        'Check its unit',
        at,
      );
    }
    out[quantity] = value;
  }
  return out;
}

/** What is wrong with a source whose id stands for other words in the program or its shop book; null when nothing is. */
export function sourceClash(source: Source): string | null {
  const there = allSources().get(source.id);
  const differs = (['title', 'standing', 'where'] as const).some((field) => there?.[field] !== source[field]);
  if (there === undefined || !differs) return null;
  return `The source id "${source.id}" is taken already, by "${there.title}"`;
}

/** Declares the book's sources to the program, so that they appear in lists of sources. Throws a BugError on a clash of words. */
export function declareBookSources(book: TechnologyBook): void {
  for (const { source } of book.points) defineSource(source);
}
