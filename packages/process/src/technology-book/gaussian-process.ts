/** A mean and a variance. */
export interface Forecast {
  readonly mean: number;
  readonly variance: number;
}

/**
 * Prior of the model on axes scaled so that the data fill −1 to 1: level within a factor of e of the mean of the data, slopes
 * of up to a factor of e per half range. Published exponents (0.15 to 1.1 over ranges of a factor 2 to 5) lie well inside.
 */
const LEVEL_VARIANCE = 0.25;
const SLOPE_VARIANCE = 0.5;

/** Bends away from the straight line (log standard deviation), reach of a bend and noise of one burn that are weighed up. */
const BENDS = [0.03, 0.1, 0.3] as const;
const REACHES = [0.7, 1.5] as const;
const NOISES = [0.01, 0.02, 0.04, 0.07, 0.1, 0.15, 0.2, 0.3, 0.45] as const;

/** Before any data, the noise of a burn is taken as about 10 %, within a factor of e. */
const USUAL_NOISE = 0.1;

/** Forecasts by a straight line with bends, weighed over how bent and how noisy the data may be. */
export class GaussianProcess {
  readonly #x: readonly (readonly number[])[];
  readonly #mean: number;
  readonly #models: {
    weight: number;
    bend: number;
    reach: number;
    noise: number;
    factor: Float64Array;
    alpha: Float64Array;
  }[];

  /** `x`: rows of scaled inputs; `y`: their outputs (logs of what was measured). Needs at least one row. */
  constructor(x: readonly (readonly number[])[], y: readonly number[]) {
    const n = y.length;
    this.#x = x;
    this.#mean = y.reduce((sum, v) => sum + v, 0) / n;
    const centred = Float64Array.from(y, (v) => v - this.#mean);
    const tried = [];
    for (const bend of BENDS) {
      for (const reach of REACHES) {
        const plain = covariance(x, bend, reach);
        for (const noise of NOISES) {
          const factor = plain.slice();
          for (let i = 0; i < n; i++) factor[i * n + i]! += noise * noise;
          choleskyInPlace(factor, n);
          const alpha = centred.slice();
          forwardSolve(factor, n, alpha);
          let logLikelihood = 0;
          for (let i = 0; i < n; i++) logLikelihood -= 0.5 * alpha[i]! * alpha[i]! + Math.log(factor[i * n + i]!);
          logLikelihood -= 0.5 * Math.log(noise / USUAL_NOISE) ** 2;
          backSolve(factor, n, alpha);
          tried.push({ logLikelihood, bend, reach, noise, factor, alpha });
        }
      }
    }
    const best = Math.max(...tried.map((t) => t.logLikelihood));
    const total = tried.reduce((sum, t) => sum + Math.exp(t.logLikelihood - best), 0);
    // A model a thousand times less likely than all together changes nothing and costs time.
    this.#models = tried
      .map(({ logLikelihood, ...rest }) => ({ weight: Math.exp(logLikelihood - best) / total, ...rest }))
      .filter(({ weight }) => weight > 1e-3);
  }

  /** Mean and variance of the next burn at `at`, its own noise included. */
  forecast(at: readonly number[]): Forecast {
    const n = this.#x.length;
    const parts: { weight: number; mean: number; variance: number }[] = [];
    for (const { weight, bend, reach, noise, factor, alpha } of this.#models) {
      const k = Float64Array.from(this.#x, (row) => kernel(row, at, bend, reach));
      let mean = this.#mean;
      for (let i = 0; i < n; i++) mean += k[i]! * alpha[i]!;
      forwardSolve(factor, n, k);
      let variance = kernel(at, at, bend, reach) + noise * noise;
      for (let i = 0; i < n; i++) variance -= k[i]! * k[i]!;
      parts.push({ weight, mean, variance });
    }
    const total = parts.reduce((sum, p) => sum + p.weight, 0);
    const mean = parts.reduce((sum, p) => sum + p.weight * p.mean, 0) / total;
    const variance = parts.reduce((sum, p) => sum + p.weight * (p.variance + (p.mean - mean) ** 2), 0) / total;
    return { mean, variance };
  }
}

function kernel(a: readonly number[], b: readonly number[], bend: number, reach: number): number {
  let straight = LEVEL_VARIANCE;
  let distance = 0;
  for (let i = 0; i < a.length; i++) {
    straight += SLOPE_VARIANCE * a[i]! * b[i]!;
    distance += (a[i]! - b[i]!) ** 2;
  }
  return straight + bend * bend * Math.exp(-distance / (2 * reach * reach));
}

function covariance(x: readonly (readonly number[])[], bend: number, reach: number): Float64Array {
  const n = x.length;
  const out = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) out[i * n + j] = out[j * n + i] = kernel(x[i]!, x[j]!, bend, reach);
  }
  return out;
}

/** Lower factor in place. The noise on the diagonal keeps every pivot positive. */
function choleskyInPlace(a: Float64Array, n: number): void {
  for (let j = 0; j < n; j++) {
    for (let i = j; i < n; i++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
      a[i * n + j] = i === j ? Math.sqrt(sum) : sum / a[j * n + j]!;
    }
  }
}

function forwardSolve(l: Float64Array, n: number, b: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= l[i * n + k]! * b[k]!;
    b[i] = sum / l[i * n + i]!;
  }
}

function backSolve(l: Float64Array, n: number, b: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i]!;
    for (let k = i + 1; k < n; k++) sum -= l[k * n + i]! * b[k]!;
    b[i] = sum / l[i * n + i]!;
  }
}
