import { BugError } from '@gapwright/base';
import { lnGamma, normalCdf, normalDensity, studentCdf, studentDensity } from './special-functions.js';

/** Scores of forecasts. Smaller is better unless said otherwise; units are those of the observation. */

/** Continuous ranked probability score of a normal forecast (closed form). At mean 0, sd 1, observed 0 it is 0.23369. */
export function crpsNormal(observed: number, mean: number, sd: number): number {
  if (!(sd > 0)) return Math.abs(observed - mean);
  const z = (observed - mean) / sd;
  return sd * (z * (2 * normalCdf(z) - 1) + 2 * normalDensity(z) - 1 / Math.sqrt(Math.PI));
}

/** CRPS of a log-normal forecast: ln of the quantity is normal with `logMean`, `logSd` (closed form). */
export function crpsLogNormal(observed: number, logMean: number, logSd: number): number {
  const median = Math.exp(logMean);
  if (!(logSd > 0)) return Math.abs(observed - median);
  const mean = Math.exp(logMean + 0.5 * logSd * logSd);
  const half = mean * (normalCdf(logSd / Math.SQRT2) * 2 - 1);
  return expectedDistanceLogNormal(observed, logMean, logSd) - half;
}

/** E|X - y| for ln X normal. */
export function expectedDistanceLogNormal(y: number, logMean: number, logSd: number): number {
  const mean = Math.exp(logMean + 0.5 * logSd * logSd);
  if (y <= 0) return mean - y;
  if (!(logSd > 0)) return Math.abs(y - mean);
  const z = (Math.log(y) - logMean) / logSd;
  return y * (2 * normalCdf(z) - 1) - mean * (2 * normalCdf(z - logSd) - 1);
}

/** E|X - y| for X normal. */
export function expectedDistanceNormal(y: number, mean: number, sd: number): number {
  if (!(sd > 0)) return Math.abs(y - mean);
  const z = (y - mean) / sd;
  return sd * (2 * normalDensity(z) + z * (2 * normalCdf(z) - 1));
}

/** CRPS of a location-scale Student-t forecast with `df` > 1 (closed form; with one degree the mean does not exist). */
export function crpsStudent(observed: number, location: number, scale: number, df: number): number {
  if (!(df > 1)) throw new BugError(`CRPS of Student's t needs more than one degree of freedom, got ${df}`);
  if (!(scale > 0)) return Math.abs(observed - location);
  const z = (observed - location) / scale;
  const logBeta = (a: number, b: number): number => lnGamma(a) + lnGamma(b) - lnGamma(a + b);
  const spread = ((2 * Math.sqrt(df)) / (df - 1)) * Math.exp(logBeta(0.5, df - 0.5) - 2 * logBeta(0.5, df / 2));
  const inside = z * (2 * studentCdf(z, df) - 1) + (2 * studentDensity(z, df) * (df + z * z)) / (df - 1);
  return scale * (inside - spread);
}

/** CRPS of a forecast given as equally likely samples: E|X - y| - E|X - X'| / 2 over the samples. */
export function crpsSample(observed: number, samples: readonly number[]): number {
  const sorted = [...samples].sort((a, b) => a - b);
  const n = sorted.length;
  if (n === 0) throw new BugError('CRPS of an empty sample');
  let distance = 0;
  let pairs = 0;
  for (let i = 0; i < n; i++) {
    distance += Math.abs(sorted[i]! - observed);
    pairs += (2 * i + 1 - n) * sorted[i]!;
  }
  return distance / n - pairs / (n * n);
}

/** Interval score at level 1 - alpha: width plus 2/alpha times the miss. */
export function intervalScore(observed: number, low: number, high: number, alpha: number): number {
  const miss = observed < low ? low - observed : observed > high ? observed - high : 0;
  return high - low + (2 / alpha) * miss;
}

/** Share of observations inside their intervals (ends count as inside). NaN for none. */
export function coverageOf(
  observed: ArrayLike<number>,
  intervals: readonly { readonly low: number; readonly high: number }[],
): number {
  let inside = 0;
  for (let i = 0; i < intervals.length; i++) {
    const { low, high } = intervals[i]!;
    if (observed[i]! >= low && observed[i]! <= high) inside++;
  }
  return inside / intervals.length;
}

/** Kolmogorov distance of probability integral transforms from uniform; above 1.36/sqrt(n) is doubtful at 5 %. */
export function pitDistance(pits: readonly number[]): number {
  const sorted = [...pits].sort((a, b) => a - b);
  const n = sorted.length;
  let largest = 0;
  for (let i = 0; i < n; i++) largest = Math.max(largest, (i + 1) / n - sorted[i]!, sorted[i]! - i / n);
  return largest;
}

/** Counts of probability integral transforms in equal bins; even counts mean honest intervals. */
export function pitHistogram(pits: readonly number[], bins = 10): number[] {
  const counts = new Array<number>(bins).fill(0);
  for (const p of pits) counts[Math.min(bins - 1, Math.max(0, Math.floor(p * bins)))]!++;
  return counts;
}

/** Mean of a list; NaN for an empty one. */
export function meanOf(values: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) sum += values[i]!;
  return sum / values.length;
}
