import type { Figure } from './figure.js';
import { seededRandom } from './random.js';

/** Number of draws that keeps the 10 % and 90 % points within about 3 % of a standard deviation. */
export const DEFAULT_DRAWS = 2000;

/**
 * Draws values of several figures together by re-evaluating their laws, so that shared causes move them together and
 * curved laws stay curved (the figures' own intervals are first order only).
 * Returns one array of `draws` values per figure, reproducible for the same seed.
 */
export function sampleFigures(targets: readonly Figure[], seed: number, draws = DEFAULT_DRAWS): Float64Array[] {
  const causes = new Map<string, Float64Array>();
  const random = seededRandom(seed);
  const drawsOf = (cause: string): Float64Array => {
    let z = causes.get(cause);
    if (z === undefined) {
      z = new Float64Array(draws);
      for (let i = 0; i < draws; i++) z[i] = random.normal();
      causes.set(cause, z);
    }
    return z;
  };
  // Causes are drawn in sorted order, so that the order in which figures are visited cannot change the result.
  for (const cause of [...new Set(targets.flatMap((t) => Object.keys(t.doubts)))].sort()) drawsOf(cause);

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
