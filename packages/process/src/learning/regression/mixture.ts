import { expectedDistanceLogNormal, expectedDistanceNormal } from '../scores.js';
import { invert, normalCdf } from '../special-functions.js';

/** Scale of the model: `log` forecasts ln of the response, `identity` the response itself. */
export type Scale = 'log' | 'identity';

/** A forecast as a weighted sum of normal distributions on the model's scale. */
export interface Mixture {
  readonly scale: Scale;
  readonly weight: Float64Array;
  readonly mean: Float64Array;
  readonly sd: Float64Array;
}

/** Middle points of thirds of the standard normal: a Student-t is spoken as three normals of different widths. */
const THIRD = 0.9674215661017014;
/** Above it a Student-t is a normal for every purpose here. */
const NORMAL_FROM_FREEDOM = 60;

/** Widths of the three normals that stand for a Student-t, relative to its scale (Wilson-Hilferty quantiles of chi-square). */
export function studentWidths(freedom: number): readonly number[] {
  if (freedom >= NORMAL_FROM_FREEDOM) return [1, 1, 1];
  const c = 2 / (9 * freedom);
  return [-THIRD, 0, THIRD].map((z) => {
    const root = Math.max(1 - c + z * Math.sqrt(c), 0.25);
    return 1 / Math.sqrt(root * root * root);
  });
}

/** Standard deviations on the log scale above this have no usable mean in the response's unit; held there. */
export const MOST_LOG_SD = 3;

/** E|X - y| of one normal component, in the response's unit. */
export function distanceTo(scale: Scale, y: number, mean: number, sd: number): number {
  return scale === 'log' ? expectedDistanceLogNormal(y, mean, sd) : expectedDistanceNormal(y, mean, sd);
}

/** E|X - X'| of two independent normal components, in the response's unit. */
export function distanceBetween(scale: Scale, mean: number, sd: number, otherMean: number, otherSd: number): number {
  if (scale === 'identity') return expectedDistanceNormal(mean, otherMean, Math.sqrt(sd * sd + otherSd * otherSd));
  const a = Math.exp(mean + 0.5 * sd * sd);
  const b = Math.exp(otherMean + 0.5 * otherSd * otherSd);
  const both = Math.sqrt(sd * sd + otherSd * otherSd);
  if (!(both > 0)) return Math.abs(a - b);
  const d = (mean - otherMean) / both;
  return a * (2 * normalCdf(d + (sd * sd) / both) - 1) - b * (2 * normalCdf(d - (otherSd * otherSd) / both) - 1);
}

/** CRPS of a mixture in the response's unit. */
export function crpsMixture({ scale, weight, mean, sd }: Mixture, y: number): number {
  let score = 0;
  for (let a = 0; a < weight.length; a++) {
    if (weight[a] === 0) continue;
    score += weight[a]! * distanceTo(scale, y, mean[a]!, sd[a]!);
    for (let b = 0; b <= a; b++) {
      if (weight[b] === 0) continue;
      const pair = weight[a]! * weight[b]! * distanceBetween(scale, mean[a]!, sd[a]!, mean[b]!, sd[b]!);
      score -= a === b ? 0.5 * pair : pair;
    }
  }
  return score;
}

/** Distribution function at a value in the response's unit. */
export function cdfMixture(m: Mixture, y: number): number {
  if (m.scale === 'log' && !(y > 0)) return 0;
  return cdfAt(m, m.scale === 'log' ? Math.log(y) : y);
}

function cdfAt({ weight, mean, sd }: Mixture, at: number): number {
  let sum = 0;
  for (let a = 0; a < weight.length; a++) {
    if (weight[a]! > 0) sum += weight[a]! * normalCdf((at - mean[a]!) / Math.max(sd[a]!, Number.MIN_VALUE));
  }
  return sum;
}

/** Quantile in the response's unit; `p` in (0, 1). */
export function quantileMixture(m: Mixture, p: number): number {
  let centre = 0;
  let width = 0;
  for (let a = 0; a < m.weight.length; a++) {
    centre += m.weight[a]! * m.mean[a]!;
    if (m.weight[a]! > 0) width = Math.max(width, m.sd[a]!);
  }
  const at = invert((x) => cdfAt(m, x), p, Math.max(width, 1e-300), centre);
  return m.scale === 'log' ? Math.exp(at) : at;
}
