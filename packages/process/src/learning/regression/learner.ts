import { seededRandom } from '@gapwright/base';
import {
  averagedFits,
  averagedForecasts,
  fitBlocks,
  leaveOneOut,
  type RowForecasts,
  type SharedFit,
  sumsOf,
} from './block-model.js';
import type { FeatureMap } from './features.js';
import { cdfMixture, crpsMixture, type Mixture, type Scale } from './mixture.js';
import { type ScaledResponse, scaledResponse } from './response.js';
import { type Bundle, mixtureOf, stackWeights } from './stack.js';

/** What was learnt from the rows with weight. */
export interface Learnt {
  readonly scale: Scale;
  /** Share of each feature map in the forecast, in the order of the maps. */
  readonly weights: readonly number[];
  /** Rows counted less because they lie far from what the others say. */
  readonly isRobust: boolean;
  /** True when nothing beats the mean by more than chance. */
  readonly isMeanOnly: boolean;
  /** Factor on the standard deviations found from the inner leave-one-out scores. */
  readonly widen: number;
  /** Misses of the inner leave-one-out forecasts in [0, 1), for the conformal step. */
  readonly misses: readonly number[];
  /** Forecast of a row from all other rows, at what was learnt without the held-out rows. */
  forecast(row: number): Mixture;
}

/** An inner miss larger than this many robust standard deviations speaks of outliers. */
const OUTLIER_SDS = 5;
/** Share of such misses from which outliers are taken into account; one is enough in few rows. */
const OUTLIER_SHARE = 0.003;
/** Degrees of freedom of the noise once there are outliers. */
const OUTLIER_FREEDOM = 4;
/** Rows of evidence by which plain scale must be better than log scale: process data are ratios. */
const LOG_PREFERENCE = 0.5;
/** Standard errors by which a model must beat the mean. */
const BEATS_MEAN_BY = 1;
const BEATS_MEAN_ROWS_BY = 2;
/** Below this number the standard error itself is a guess, and more is demanded. */
const FEW_ROWS = 8;
/** Factors tried on the standard deviations. */
const WIDENINGS = [0.7, 0.8, 0.9, 1, 1.12, 1.25, 1.4, 1.6];
/** Rows of doubt in the widening: with few rows it stays near 1. */
const WIDENING_ROWS = 15;
/** Rows whose misses one choice explains away; the mixing itself counts as one choice. */
const ROWS_PER_CHOICE = 1.3;
/** Most rows behind the misses and the widening. */
const MOST_ROWS_CHECKED = 600;

interface ScaleFit {
  readonly response: ScaledResponse;
  readonly fits: readonly (readonly SharedFit[])[];
  readonly bundle: Bundle;
  readonly rowWeights: Float64Array;
  readonly isRobust: boolean;
  readonly weights: readonly number[];
  /** Inner CRPS of the mixture, of the mean alone, row by row. */
  readonly scores: Float64Array;
  readonly meanScores: Float64Array;
}

/** Learns from all rows that are not held out. Nothing about a held-out response is looked at. */
export function learn(
  maps: readonly FeatureMap[],
  response: Float64Array,
  heldOut: readonly number[],
  seed: number,
): Learnt {
  const isHeld = new Uint8Array(response.length);
  for (const i of heldOut) isHeld[i] = 1;
  const rows: number[] = [];
  for (let i = 0; i < response.length; i++) if (isHeld[i] === 0) rows.push(i);
  const stride = Math.ceil(rows.length / MOST_ROWS_CHECKED);
  const checked = rows.filter((_, k) => k % stride === 0);
  // A single held-out row is forecast by the inner fits as they are; several join in closed form later.
  const single = heldOut.length === 1 ? heldOut : [];
  const scales: Scale[] = response.every((v) => v > 0) ? ['log', 'identity'] : ['identity'];
  const tried = scales.map((scale) => fitScale(maps, response, rows, checked, isHeld, single, scale, seed));
  const preference = 1 + LOG_PREFERENCE / rows.length;
  const best = tried.reduce((a, b) => (average(b.scores) * preference < average(a.scores) ? b : a));
  const plain = tried.reduce((a, b) => (average(b.meanScores) * preference < average(a.meanScores) ? b : a));
  const isMeanOnly = maps.length === 1 || !isBeaten(plain.meanScores, best.scores);
  const chosen = isMeanOnly ? plain : best;
  const weights = isMeanOnly ? maps.map((_, k) => (k === 0 ? 1 : 0)) : chosen.weights;
  const choices = weights.reduce((sum, w, k) => sum + w * maps[k]!.tuned, 1);
  const widen = isMeanOnly ? 1 : wideningOf(chosen.bundle, weights, response, checked, choices);
  const misses = checked.map((i) => missOf(mixtureOf(chosen.bundle, weights, i, widen), response[i]!));
  let outer: Bundle | undefined;
  return {
    scale: chosen.response.scale,
    weights,
    isRobust: chosen.isRobust,
    isMeanOnly,
    widen,
    misses,
    forecast(row) {
      outer ??= heldOut.length > 1 ? withHeldRows(chosen, heldOut) : chosen.bundle;
      return mixtureOf(outer, weights, row, widen);
    },
  };
}

/** |2 F(y) - 1|: 0 at the median of the forecast, near 1 far out. */
export function missOf(mixture: Mixture, y: number): number {
  return Math.abs(2 * cdfMixture(mixture, y) - 1);
}

function fitScale(
  maps: readonly FeatureMap[],
  response: Float64Array,
  rows: readonly number[],
  checked: readonly number[],
  isHeld: Uint8Array,
  extra: readonly number[],
  scale: Scale,
  seed: number,
): ScaleFit {
  const scaled = scaledResponse(response, scale);
  let rowWeights: Float64Array = Float64Array.from(isHeld, (h) => 1 - h);
  let fits = maps.map((map) => bestFit(map, scaled.values, rowWeights));
  const asked = [...checked, ...extra];
  let forecasts = fits.map((f) => averagedForecasts(f, asked));
  const reference = sharpest(forecasts, scaled.values, checked);
  const isRobust = hasOutliers(forecasts[reference]!, scaled.values, checked);
  if (isRobust) {
    rowWeights = robustWeights(fits[reference]![0]!, scaled.values, rowWeights, rows);
    fits = maps.map((map) => bestFit(map, scaled.values, rowWeights));
    forecasts = fits.map((f) => tailed(averagedForecasts(f, asked)));
  }
  const bundle: Bundle = { scale, models: forecasts.map((f) => scaled.back(f)) };
  const weights = stackWeights(
    bundle,
    response,
    checked,
    seededRandom(seed).uniform,
    maps.map((m) => m.tuned),
  );
  const scoresUnder = (w: readonly number[]): Float64Array =>
    Float64Array.from(checked, (i) => crpsMixture(mixtureOf(bundle, w, i), response[i]!));
  const scores = scoresUnder(weights);
  const meanScores = scoresUnder(maps.map((_, k) => (k === 0 ? 1 : 0)));
  return { response: scaled, fits, bundle, rowWeights, isRobust, weights, scores, meanScores };
}

function bestFit(map: FeatureMap, y: Float64Array, weights: Float64Array): readonly SharedFit[] {
  return averagedFits(map.designs.map((design) => sumsOf(design, y, weights)));
}

/** The model with the smallest median inner miss; the mean alone is left out where there are others. */
function sharpest(forecasts: readonly RowForecasts[], y: Float64Array, rows: readonly number[]): number {
  let best = 0;
  let least = Number.POSITIVE_INFINITY;
  forecasts.forEach((f, k) => {
    const miss = median(rows.map((i) => Math.abs(y[i]! - f.location[i]!)));
    if (miss < least) [best, least] = [k, miss];
  });
  return best;
}

function hasOutliers(f: RowForecasts, y: Float64Array, rows: readonly number[]): boolean {
  const sizes = rows.map((i) => Math.abs(y[i]! - f.location[i]!) / f.scale[i]!);
  const limit = OUTLIER_SDS * robustSd(sizes);
  return limit > 0 && sizes.filter((s) => s > limit).length >= Math.max(1, OUTLIER_SHARE * rows.length);
}

/** Scale mixture weights of Student-t noise, from leave-one-out misses so that a row cannot pull the fit to itself. */
function robustWeights(
  start: SharedFit,
  y: Float64Array,
  rowWeights: Float64Array,
  rows: readonly number[],
): Float64Array {
  let weights = rowWeights;
  let fit = start.fit;
  for (let round = 0; round < 5; round++) {
    const f = leaveOneOut(fit);
    const sizes = rows.map((i) => Math.abs(y[i]! - f.location[i]!) / f.scale[i]!);
    const sd = robustSd(sizes);
    // Half the rows met exactly: there is no scale to judge the others by.
    if (!(sd > 0)) break;
    weights = weights.slice();
    rows.forEach((i, k) => {
      weights[i] = weightOf(sizes[k]! / sd);
    });
    fit = fitBlocks(sumsOf(start.fit.sums.design, y, weights), start.precisions);
  }
  return weights;
}

function weightOf(sds: number): number {
  return Math.min(1, (OUTLIER_FREEDOM + 1) / (OUTLIER_FREEDOM + sds * sds));
}

function tailed(f: RowForecasts): RowForecasts {
  return { ...f, freedom: Math.min(f.freedom, OUTLIER_FREEDOM) };
}

/** Forecasts of held-out rows from all other rows, at the precisions and shares learnt without any of them. */
function withHeldRows(chosen: ScaleFit, heldOut: readonly number[]): Bundle {
  const { response, fits, bundle, isRobust } = chosen;
  const models = fits.map((shared) => {
    const weights = chosen.rowWeights.slice();
    const before = isRobust ? averagedForecasts(shared, heldOut) : undefined;
    for (const i of heldOut) {
      const size = before === undefined ? 0 : (response.values[i]! - before.location[i]!) / before.scale[i]!;
      weights[i] = isRobust && !Number.isNaN(size) ? weightOf(size) : 1;
    }
    const designs = new Set(shared.map(({ fit }) => fit.sums.design));
    const bySums = new Map([...designs].map((design) => [design, sumsOf(design, response.values, weights)]));
    const full = shared.map((s) => ({ ...s, fit: fitBlocks(bySums.get(s.fit.sums.design)!, s.precisions) }));
    const forecasts = averagedForecasts(full, heldOut);
    return response.back(isRobust ? tailed(forecasts) : forecasts);
  });
  return { scale: bundle.scale, models };
}

/**
 * True when `scores` are smaller than `reference` by more than chance explains, in the mean or row by row: in the mean a single
 * large response can hide what all the others say.
 */
function isBeaten(reference: Float64Array, scores: Float64Array): boolean {
  const gain = scores.map((s, k) => reference[k]! - s);
  const ratio = scores.map((s, k) => Math.log((reference[k]! + Number.MIN_VALUE) / (s + Number.MIN_VALUE)));
  const few = Math.max(1, FEW_ROWS / scores.length);
  return standardErrors(gain) > few * BEATS_MEAN_BY || standardErrors(ratio) > few * BEATS_MEAN_ROWS_BY;
}

/** Mean of the values in standard errors. */
function standardErrors(values: Float64Array): number {
  const n = values.length;
  const mean = average(values);
  let square = 0;
  for (const v of values) square += (v - mean) * (v - mean);
  return mean / Math.sqrt(square / Math.max(1, n - 1) / n);
}

/** The widening of least inner CRPS, drawn towards 1 when there are few rows, times what the choices made hide. */
function wideningOf(
  bundle: Bundle,
  weights: readonly number[],
  y: Float64Array,
  rows: readonly number[],
  choices: number,
): number {
  const scoreOf = (widen: number): number => {
    let sum = 0;
    for (const i of rows) sum += crpsMixture(mixtureOf(bundle, weights, i, widen), y[i]!);
    return sum;
  };
  const best = WIDENINGS.map((w) => ({ w, score: scoreOf(w) })).reduce((a, b) => (b.score < a.score ? b : a));
  const n = rows.length;
  return best.w ** (n / (n + WIDENING_ROWS)) * (1 + (ROWS_PER_CHOICE * choices) / n);
}

function robustSd(sizes: readonly number[]): number {
  return median(sizes) / 0.6744897501960817;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const n = sorted.length;
  return n === 0 ? Number.NaN : 0.5 * (sorted[(n - 1) >> 1]! + sorted[n >> 1]!);
}

function average(values: Float64Array): number {
  let sum = 0;
  for (const v of values) sum += v;
  return sum / values.length;
}
