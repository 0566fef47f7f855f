import { BugError } from './problem.js';

/**
 * How sure we may be of a source.
 * `published`: read, with where. `from memory`: the source we believe it is in. `common practice`: the trade says so.
 * `computed`: follows from definitions alone. `shop`: this shop's own data. `job`: stated for this job.
 */
export type Standing = 'published' | 'from memory' | 'common practice' | 'computed' | 'shop' | 'job';

/** Where a constant, a law or an input comes from. */
export interface Source {
  readonly id: string;
  readonly title: string;
  readonly standing: Standing;
  /** Page, equation, section or address inside the source. */
  readonly where?: string;
}

const sources = new Map<string, Source>();

/** Declares a source once; declaring the same id again with other words is our own bug. */
export function defineSource(source: Source): Source {
  const known = sources.get(source.id);
  if (known !== undefined && JSON.stringify(known) !== JSON.stringify(source)) {
    throw new BugError(`source "${source.id}" is declared twice with different words`);
  }
  const kept = known ?? Object.freeze(source);
  sources.set(source.id, kept);
  return kept;
}

/** All declared sources, by id. */
export function allSources(): ReadonlyMap<string, Source> {
  return sources;
}

/** Geometry, arithmetic, definitions: nothing outside is needed to believe it. */
export const BY_DEFINITION = defineSource({ id: 'definition', title: 'By definition', standing: 'computed' });

/** What the customer or the planner stated for this job. */
export const STATED_FOR_JOB = defineSource({ id: 'job', title: 'Stated for this job', standing: 'job' });

/** Measured on the customer's drawing. */
export const FROM_DRAWING = defineSource({ id: 'drawing', title: 'Measured on the drawing', standing: 'job' });
