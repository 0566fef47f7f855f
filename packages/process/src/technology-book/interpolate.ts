import {
  BugError,
  type Figure,
  given,
  type Problem,
  type ProblemParts,
  problem,
  type Result,
  type Source,
} from '@gapwright/base';
import { FAR_FACTOR, logBeyond } from '../validity.js';
import { extentOf } from './extent.js';
import { GaussianProcess } from './gaussian-process.js';
import { shareOfMelting } from './quality.js';
import {
  type ErosionProcess,
  roleOf,
  TECHNOLOGY_QUANTITIES,
  TECHNOLOGY_QUANTITY_NAMES,
  type TechnologyQuantity,
} from './quantities.js';
import type { QuantityValues, TechnologyPoint } from './technology-point.js';

/** What is asked of {@link interpolateTechnology}. */
export interface TechnologyQuery {
  readonly process: ErosionProcess;
  readonly material: string;
  readonly tool: string;
  readonly conditions: QuantityValues;
  /** The result wanted, e.g. `raUm`. */
  readonly result: TechnologyQuantity;
  /** Energy to warm and melt the work, J/mm³; rates are then held against the ceiling. */
  readonly meltEnergyJPerMm3?: number;
}

/** More points add little and cost time with the third power; the nearest are kept. */
const MOST_POINTS = 200;

/** Log standard deviation per unit of log distance along an axis the points never moved on: an unknown exponent of ± 0.7. */
const UNKNOWN_EXPONENT = 0.7;

/** A ratio this close to 1 is the same setting, written differently. */
const SAME_SETTING_LOG = 1e-6;

/** Above this share of the ceiling a rate deserves a second look. */
const NEAR_CEILING = 0.3;

/**
 * Interpolates one result between technology points of the same process, material and tool, on log axes. The interval
 * holds the next burn, widens away from the points, and the figure says how many points it rests on. Stops:
 * `TECH-NO-POINTS`, `TECH-CONDITION-MISSING`, `TECH-FAR-OUTSIDE` (beyond twice the range of the points),
 * `TECH-ABOVE-CEILING`. Warns `TECH-OUTSIDE-POINTS`, `TECH-CONDITION-UNKNOWN`, `TECH-FEW-POINTS`, `TECH-NEAR-CEILING`. Throws a BugError for a
 * wanted quantity that is a condition and for conditions that are not positive numbers.
 */
export function interpolateTechnology(points: readonly TechnologyPoint[], query: TechnologyQuery): Result<Figure> {
  if (roleOf(query.result) !== 'result') throw new BugError(`${query.result} is set, not measured`);
  const problems: Problem[] = [];
  const say = (severity: Problem['severity'], parts: Omit<ProblemParts, 'severity'>): void => {
    problems.push(problem({ severity, ...parts }));
  };
  const usable = points.filter((p) => answersQuery(p, query));
  const subject = `${TECHNOLOGY_QUANTITIES[query.result].says} of ${query.material} with ${query.tool}`;
  if (usable.length === 0) {
    say('stop', {
      code: 'TECH-NO-POINTS',
      what: `The technology book has no points for ${subject}`,
      fix: 'Import or burn some',
    });
    return { value: null, problems };
  }
  const axes = axesOf(usable, query, say);
  if (axes === null) return { value: null, problems };
  const { moving, unknownLog } = axes;

  const place = (p: QuantityValues): number[] =>
    moving.map(({ name, middle, half }) => (Math.log(p[name]!) - middle) / half);
  const at = place(query.conditions);
  const ranked = usable
    .map((p) => ({ p, z: place(p.conditions) }))
    .map((entry) => ({ ...entry, distance: distanceOf(entry.z, at) }))
    .sort((a, b) => a.distance - b.distance || (a.p.id < b.p.id ? -1 : 1))
    .slice(0, MOST_POINTS);
  const logs = ranked.map(({ p }) => Math.log(p.results[query.result]!));
  const { mean, variance } = new GaussianProcess(
    ranked.map(({ z }) => z),
    logs,
  ).forecast(at);
  if (ranked.length < moving.length + 2) {
    const what = `Only ${ranked.length} point${ranked.length === 1 ? '' : 's'} speak${ranked.length === 1 ? 's' : ''} of the ${subject}`;
    say('warn', { code: 'TECH-FEW-POINTS', what, fix: 'The interval is mostly prior judgement; burn a test piece' });
  }
  const value = Math.exp(mean);
  if (isImpossible(value, query, say)) return { value: null, problems };
  const relative = Math.sqrt(variance + (UNKNOWN_EXPONENT * unknownLog) ** 2);
  const { unit } = TECHNOLOGY_QUANTITIES[query.result];
  const says = `${subject}, interpolated between ${ranked.length} point${ranked.length === 1 ? '' : 's'}; the nearest is ${ranked[0]!.p.id}`;
  const cause = `technology:${query.result}-${query.material.toLowerCase()}`;
  return {
    value: given(value, unit, capital(says), sourceOf(ranked.map(({ p }) => p)), { relative, cause }),
    problems,
  };
}

/** Whether a point is of the process, material and tool asked for and states the result. */
export function answersQuery(p: TechnologyPoint, query: TechnologyQuery): boolean {
  const same = (a: string, b: string): boolean => a.toLowerCase() === b.toLowerCase();
  const result = p.results[query.result];
  return (
    p.process === query.process &&
    same(p.material, query.material) &&
    same(p.tool, query.tool) &&
    result !== undefined &&
    result > 0
  );
}

interface Axis {
  readonly name: TechnologyQuantity;
  /** Middle and half width of the points' range, on logs. */
  readonly middle: number;
  readonly half: number;
}

type Say = (severity: Problem['severity'], parts: Omit<ProblemParts, 'severity'>) => void;

/** The conditions the points differ in, and how far the query leaves the conditions they share; null after a stop. */
function axesOf(
  usable: TechnologyPoint[],
  query: TechnologyQuery,
  say: Say,
): { readonly moving: readonly Axis[]; readonly unknownLog: number } | null {
  const moving: Axis[] = [];
  let unknownLog = 0;
  let stopped = false;
  for (const name of TECHNOLOGY_QUANTITY_NAMES) {
    const asked = query.conditions[name];
    if (asked !== undefined && !(asked > 0 && Number.isFinite(asked)))
      throw new BugError(`${name} must be positive, got ${asked}`);
    const values = usable.flatMap((p) => p.conditions[name] ?? []);
    const { says, unit } = TECHNOLOGY_QUANTITIES[name];
    if (values.length < usable.length) {
      // Not every point states it, so it cannot be an axis.
      if (asked !== undefined) {
        const what = `${values.length === 0 ? 'The points do not' : 'Not all points'} state the ${says}`;
        say('warn', { code: 'TECH-CONDITION-UNKNOWN', what, fix: 'It is left out of account; burn a test piece' });
      }
      continue;
    }
    const [low, high] = extentOf(values);
    const fixed = Math.log(high / low) <= SAME_SETTING_LOG;
    if (asked === undefined) {
      if (fixed) continue;
      stopped = true;
      const what = `The points differ in ${says} (${low} to ${high} ${unit}) and the question states none`;
      say('stop', { code: 'TECH-CONDITION-MISSING', what, fix: `State the ${says}` });
      continue;
    }
    const range = fixed ? `${low}` : `${low} to ${high}`;
    const beyond = logBeyond(asked, [low, high]);
    if (beyond > Math.log(FAR_FACTOR) + SAME_SETTING_LOG) {
      stopped = true;
      const what = `The points cover ${says} ${range} ${unit}; ${asked} ${unit} lies far outside`;
      say('stop', { code: 'TECH-FAR-OUTSIDE', what, fix: 'Change the setting, or burn and add a point nearer to it' });
    } else if (beyond > SAME_SETTING_LOG) {
      const what = `The points cover ${says} ${range} ${unit}; ${asked} ${unit} lies outside`;
      say('warn', { code: 'TECH-OUTSIDE-POINTS', what, fix: 'The interval is widened; burn a test piece' });
    }
    if (fixed) unknownLog += beyond;
    else moving.push({ name, middle: Math.log(low * high) / 2, half: Math.log(high / low) / 2 });
  }
  return stopped ? null : { moving, unknownLog };
}

function distanceOf(a: readonly number[], b: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < a.length; k++) sum += (a[k]! - b[k]!) ** 2;
  return sum;
}

function isImpossible(value: number, query: TechnologyQuery, say: Say): boolean {
  if (query.meltEnergyJPerMm3 === undefined) return false;
  const share = shareOfMelting(query.conditions, { [query.result]: value }, query.meltEnergyJPerMm3);
  if (share === null || share <= NEAR_CEILING) return false;
  const what = `The points lead to ${Math.round(share * 100)} % of what the power could melt`;
  const fix = 'Check the units of the points and the energy to melt';
  if (share > 1) say('stop', { code: 'TECH-ABOVE-CEILING', what: `${what}, which is impossible`, fix });
  else say('warn', { code: 'TECH-NEAR-CEILING', what, fix });
  return share > 1;
}

/** The points' own source, or all of them named together. */
function sourceOf(points: readonly TechnologyPoint[]): Source {
  const sources = [...new Map(points.map((p) => [p.source.id, p.source])).values()];
  const [only] = sources;
  if (sources.length === 1 && only !== undefined) return only;
  const ids = sources.map((s) => s.id).sort();
  return Object.freeze({
    id: `technology-points:${ids.join('+')}`,
    title: `Interpolated between points of ${sources.length} sources`,
    standing: 'computed',
    where: sources.map((s) => `${s.title} (${s.standing})`).join('; '),
  });
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
