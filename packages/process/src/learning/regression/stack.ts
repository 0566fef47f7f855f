import type { RowForecasts } from './block-model.js';
import { distanceBetween, distanceTo, type Mixture, MOST_LOG_SD, type Scale, studentWidths } from './mixture.js';

/** Forecasts of several models for the same rows, on one scale, in the units of that scale. */
export interface Bundle {
  readonly scale: Scale;
  readonly models: readonly RowForecasts[];
}

/** Rows beyond this number add nothing to a handful of weights; every k-th row is taken. */
const MOST_ROWS_WEIGHED = 500;
/** Rows' worth of score that one choice explains away. */
const OPTIMISM = 0.15;
/** Resamples behind the averaged weights: more rows leave less to average. */
const RESAMPLES = 12;

/** The mixture that gives the forecast of row `i` under model weights; `widen` multiplies every standard deviation. */
export function mixtureOf({ scale, models }: Bundle, weights: readonly number[], i: number, widen = 1): Mixture {
  const weight: number[] = [];
  const mean: number[] = [];
  const sd: number[] = [];
  models.forEach((m, k) => {
    if (weights[k] === 0) return;
    for (const width of studentWidths(m.freedom)) {
      const s = m.scale[i]! * width * widen;
      weight.push(weights[k]! / 3);
      mean.push(m.location[i]!);
      sd.push(scale === 'log' ? Math.min(s, MOST_LOG_SD) : s);
    }
  });
  return {
    scale,
    weight: Float64Array.from(weight),
    mean: Float64Array.from(mean),
    sd: Float64Array.from(sd),
  };
}

/**
 * Weights of the models that minimise the mean CRPS of their mixture over `rows`, averaged over Bayesian bootstrap resamples:
 * where the data do not say which model is better, several keep a share. `tuned` counts the precisions and length scales each
 * model has chosen from the same rows; its scores are that much too good and are marked down.
 */
export function stackWeights(
  bundle: Bundle,
  y: Float64Array,
  rows: readonly number[],
  uniform: () => number,
  tuned: readonly number[],
): number[] {
  const k = bundle.models.length;
  if (k === 1) return [1];
  const optimism = tuned.map((count) => 1 + (OPTIMISM * count) / rows.length);
  const stride = Math.ceil(rows.length / MOST_ROWS_WEIGHED);
  const taken = rows.filter((_, index) => index % stride === 0);
  const { to, between } = distances(bundle, y, taken);
  const total = new Array<number>(k).fill(0);
  for (let round = 0; round < RESAMPLES; round++) {
    const share = taken.map(() => -Math.log(1 - uniform()));
    const sum = share.reduce((a, b) => a + b, 0);
    const a = new Float64Array(k);
    const b = new Float64Array(k * k);
    share.forEach((s, r) => {
      for (let m = 0; m < k; m++) a[m]! += (s / sum) * optimism[m]! * to[r * k + m]!;
      for (let m = 0; m < k * k; m++) b[m]! += (s / sum) * between[r * k * k + m]!;
    });
    minimise(a, b, k).forEach((w, m) => {
      total[m]! += w / RESAMPLES;
    });
  }
  return total;
}

function distances({ scale, models }: Bundle, y: Float64Array, rows: readonly number[]) {
  const k = models.length;
  const widths = models.map((m) => studentWidths(m.freedom));
  const to = new Float64Array(rows.length * k);
  const between = new Float64Array(rows.length * k * k);
  const sdOf = (m: number, i: number, width: number): number => {
    const s = models[m]!.scale[i]! * width;
    return scale === 'log' ? Math.min(s, MOST_LOG_SD) : s;
  };
  rows.forEach((i, r) => {
    for (let m = 0; m < k; m++) {
      const mean = models[m]!.location[i]!;
      for (const width of widths[m]!) to[r * k + m]! += distanceTo(scale, y[i]!, mean, sdOf(m, i, width)) / 3;
      for (let o = 0; o <= m; o++) {
        let sum = 0;
        for (const width of widths[m]!) {
          for (const other of widths[o]!) {
            sum += distanceBetween(scale, mean, sdOf(m, i, width), models[o]!.location[i]!, sdOf(o, i, other)) / 9;
          }
        }
        between[r * k * k + m * k + o] = sum;
        between[r * k * k + o * k + m] = sum;
      }
    }
  });
  return { to, between };
}

/**
 * Minimises w·a - w·B·w/2 over weights w >= 0 that sum to one. The handful of models allows the plain way: for every subset
 * solve a - B w = m, sum w = 1, and keep the best answer without negative weights.
 */
function minimise(a: Float64Array, b: Float64Array, k: number): number[] {
  let best: number[] = [];
  let least = Number.POSITIVE_INFINITY;
  for (let subset = 1; subset < 1 << k; subset++) {
    const members = Array.from({ length: k }, (_, m) => m).filter((m) => (subset >> m) & 1);
    const solved = members.length === 1 ? [1] : onSubset(a, b, k, members);
    if (solved === null || solved.some((w) => w < 0)) continue;
    let value = 0;
    members.forEach((m, r) => {
      value += solved[r]! * a[m]!;
      members.forEach((o, c) => {
        value -= 0.5 * solved[r]! * solved[c]! * b[m * k + o]!;
      });
    });
    if (value < least) {
      least = value;
      best = new Array<number>(k).fill(0);
      members.forEach((m, r) => {
        best[m] = solved[r]!;
      });
    }
  }
  return best;
}

/** Stationary weights on a subset by elimination with row exchange; null when the models are too alike to tell apart. */
function onSubset(a: Float64Array, b: Float64Array, k: number, members: readonly number[]): number[] | null {
  const n = members.length + 1;
  const size = Math.max(...members.map((m) => a[m]!)) || 1;
  const rows = members.map((m) => [...members.map((o) => b[m * k + o]! / size), 1, a[m]! / size]);
  rows.push([...members.map(() => 1), 0, 1]);
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(rows[r]![c]!) > Math.abs(rows[pivot]![c]!)) pivot = r;
    if (Math.abs(rows[pivot]![c]!) < LEAST_ELIMINATION_PIVOT) return null;
    [rows[c], rows[pivot]] = [rows[pivot]!, rows[c]!];
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const share = rows[r]![c]! / rows[c]![c]!;
      if (share !== 0) for (let j = c; j <= n; j++) rows[r]![j]! -= share * rows[c]![j]!;
    }
  }
  return members.map((_, m) => rows[m]![n]! / rows[m]![m]!);
}

/** Distances between models are scaled to about 1; below this two of them are the same model. */
const LEAST_ELIMINATION_PIVOT = 1e-12;
