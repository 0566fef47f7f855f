import type { Figure } from './figure.js';
import { seededRandom } from './random.js';

/** Number of draws that keeps the 10 % and 90 % points within about 3 % of a standard deviation. */
export const DEFAULT_DRAWS = 2000;

/** Draws of causes kept for the next question: a job and its tried changes share nearly all of them. */
const CAUSES_KEPT = 400;
const kept = new Map<string, Float64Array>();

/**
 * Standard normal draws of one cause. Each cause has its own stream, so that a cause which comes or goes leaves the draws of
 * all others as they were: two plans differ by what was changed, not by other luck.
 */
function drawsOfCause(cause: string, seed: number, draws: number): Float64Array {
  const key = `${seed} ${draws} ${cause}`;
  const known = kept.get(key);
  if (known !== undefined) return known;
  const random = seededRandom(seed ^ hashOf(cause));
  const z = new Float64Array(draws);
  for (let i = 0; i < draws; i++) z[i] = random.normal();
  standardise(z);
  if (kept.size >= CAUSES_KEPT) kept.delete(kept.keys().next().value!);
  kept.set(key, z);
  return z;
}

/** Gives the draws mean 0 and variance 1 exactly (moment matching), which takes most of the luck out of sums of many causes. */
function standardise(z: Float64Array): void {
  const mean = z.reduce((sum, v) => sum + v, 0) / z.length;
  const sd = Math.sqrt(z.reduce((sum, v) => sum + (v - mean) * (v - mean), 0) / z.length);
  if (sd === 0) return;
  for (let i = 0; i < z.length; i++) z[i] = (z[i]! - mean) / sd;
}

/** FNV-1a over the UTF-16 units, 32 bits: tells names apart, nothing more. */
function hashOf(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return hash;
}

/**
 * Draws values of several figures together by re-evaluating their laws, so that shared causes move them together and
 * curved laws stay curved (the figures' own intervals are first order only).
 * Returns one array of `draws` values per figure, reproducible for the same seed.
 */
export function sampleFigures(targets: readonly Figure[], seed: number, draws = DEFAULT_DRAWS): Float64Array[] {
  const drawsOf = (cause: string): Float64Array => drawsOfCause(cause, seed, draws);
  const known = new Map<Figure, Float64Array | number>();
  const valuesOf = (figure: Figure): Float64Array | number => {
    const seen = known.get(figure);
    if (seen !== undefined) return seen;
    const values = figure.low === figure.high ? figure.value : evaluate(figure);
    known.set(figure, values);
    return values;
  };
  const evaluate = (figure: Figure): Float64Array => {
    const out = new Float64Array(draws).fill(figure.value);
    const { reason } = figure;
    if (reason.kind === 'given') {
      for (const cause in figure.doubts) spread(out, drawsOf(cause), figure.doubts[cause]!, figure.value);
      return out;
    }
    const names = Object.keys(reason.inputs);
    const columns = names.map((name) => valuesOf(reason.inputs[name]!));
    const row: Record<string, number> = {};
    for (let k = 0; k < names.length; k++) row[names[k]!] = typeof columns[k] === 'number' ? (columns[k] as number) : 0;
    const moving = names.map((_, k) => k).filter((k) => typeof columns[k] !== 'number');
    if (moving.length > 0) {
      for (let i = 0; i < draws; i++) {
        for (const k of moving) row[names[k]!] = (columns[k] as Float64Array)[i]!;
        out[i] = reason.law.evaluate(row);
      }
    }
    const scatter = reason.law.scatter;
    if (scatter !== undefined && reason.scatterCause !== undefined) {
      const z = drawsOf(reason.scatterCause);
      for (let i = 0; i < draws; i++) out[i]! *= Math.exp(scatter.relative * z[i]!);
    }
    return out;
  };
  return targets.map((target) => {
    const values = valuesOf(target);
    return typeof values === 'number' ? new Float64Array(draws).fill(values) : values;
  });
}

/** Moves every draw by one cause: log-normal for positive values, normal otherwise. */
function spread(out: Float64Array, z: Float64Array, sd: number, value: number): void {
  if (value > 0) {
    const relative = sd / value;
    for (let i = 0; i < out.length; i++) out[i]! *= Math.exp(relative * z[i]!);
  } else {
    for (let i = 0; i < out.length; i++) out[i]! += sd * z[i]!;
  }
}

/** The p-quantile (0 to 1) of a sample by linear interpolation between order statistics (type 7). */
export function quantile(sample: Float64Array, p: number): number {
  const sorted = sample.slice().sort();
  const position = (sorted.length - 1) * p;
  const below = Math.floor(position);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below]! + (sorted[above]! - sorted[below]!) * (position - below);
}
