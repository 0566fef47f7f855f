/** Functions of probability that the language lacks. */

const SQRT_2 = Math.SQRT2;
const INV_SQRT_2PI = 1 / Math.sqrt(2 * Math.PI);

/** Density of the standard normal. */
export function normalDensity(z: number): number {
  return INV_SQRT_2PI * Math.exp(-0.5 * z * z);
}

/**
 * Complementary error function by series (small x) and continued fraction (large x); relative error below 1e-13.
 */
export function erfc(x: number): number {
  const size = Math.abs(x);
  const value = size < 2.2 ? 1 - erfSeries(size) : erfcFraction(size);
  return x >= 0 ? value : 2 - value;
}

function erfSeries(x: number): number {
  let term = x;
  let sum = x;
  const square = x * x;
  for (let n = 1; n < 80; n++) {
    term *= -square / n;
    const add = term / (2 * n + 1);
    sum += add;
    if (Math.abs(add) < 1e-17 * Math.abs(sum)) break;
  }
  return (2 / Math.sqrt(Math.PI)) * sum;
}

function erfcFraction(x: number): number {
  if (x > 27) return 0;
  let tail = 0;
  for (let k = 50; k >= 1; k--) tail = (k * 0.5) / (x + tail);
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * (x + tail));
}

/** Distribution function of the standard normal. */
export function normalCdf(z: number): number {
  return 0.5 * erfc(-z / SQRT_2);
}

/** ln Γ(x) for x > 0: recurrence up to 10, then Stirling's series (error below 1e-13). */
export function lnGamma(x: number): number {
  let shift = 0;
  let z = x;
  while (z < 10) {
    shift -= Math.log(z);
    z += 1;
  }
  const inverse = 1 / z;
  const square = inverse * inverse;
  const series = inverse * (1 / 12 - square * (1 / 360 - square * (1 / 1260 - square * (1 / 1680 - square / 1188))));
  return shift + (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series;
}

/** Regularised incomplete beta function I_x(a, b) by its continued fraction. */
export function incompleteBeta(x: number, a: number, b: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  const front = Math.exp(lnGamma(a + b) - lnGamma(a) - lnGamma(b) + a * Math.log(x) + b * Math.log1p(-x));
  if (x < (a + 1) / (a + b + 2)) return (front * betaFraction(x, a, b)) / a;
  return 1 - (front * betaFraction(1 - x, b, a)) / b;
}

/** Lentz's method for the continued fraction of the incomplete beta function. */
function betaFraction(x: number, a: number, b: number): number {
  const tiny = 1e-300;
  const guard = (v: number): number => (Math.abs(v) < tiny ? tiny : v);
  let c = 1;
  let d = 1 / guard(1 - ((a + b) * x) / (a + 1));
  let value = d;
  for (let m = 1; m < 500; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / guard(1 + even * d);
    c = guard(1 + even / c);
    value *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / guard(1 + odd * d);
    c = guard(1 + odd / c);
    const step = d * c;
    value *= step;
    if (Math.abs(step - 1) < 1e-15) break;
  }
  return value;
}

/** Density of Student's t with `df` degrees of freedom. */
export function studentDensity(t: number, df: number): number {
  const norm = lnGamma((df + 1) / 2) - lnGamma(df / 2) - 0.5 * Math.log(df * Math.PI);
  return Math.exp(norm - ((df + 1) / 2) * Math.log1p((t * t) / df));
}

/** Distribution function of Student's t. */
export function studentCdf(t: number, df: number): number {
  const tail = 0.5 * incompleteBeta(df / (df + t * t), df / 2, 0.5);
  return t > 0 ? 1 - tail : tail;
}

/** Quantile of Student's t by bisection on its distribution function; `p` in (0, 1). */
export function studentQuantile(p: number, df: number): number {
  return invert((t) => studentCdf(t, df), p, 1);
}

/** Quantile of the standard normal; `p` in (0, 1). */
export function normalQuantile(p: number): number {
  return invert(normalCdf, p, 1);
}

/** Inverts an increasing distribution function by doubling brackets, then bisection down to rounding. */
export function invert(cdf: (x: number) => number, p: number, scale: number, centre = 0): number {
  let low = centre - scale;
  let high = centre + scale;
  for (let k = 0; k < 200 && cdf(low) > p; k++) low = centre - (centre - low) * 2;
  for (let k = 0; k < 200 && cdf(high) < p; k++) high = centre + (high - centre) * 2;
  for (let k = 0; k < 60; k++) {
    const mid = 0.5 * (low + high);
    if (mid === low || mid === high) break;
    if (cdf(mid) < p) low = mid;
    else high = mid;
  }
  return 0.5 * (low + high);
}
