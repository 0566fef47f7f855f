/** Square symmetric matrices are flat, row by row; only the lower triangle is read and written. */

/**
 * Smallest pivot that still counts as information, relative to the diagonal entry it came from.
 * Below it a column is a combination of earlier ones up to rounding (double precision loses half its digits in a Gram matrix).
 */
const LEAST_PIVOT = 1e-10;

/**
 * Factors A = L L' in place (lower triangle). Columns whose pivot vanishes are switched off: their entry of `isOff` is set and
 * their coefficient becomes zero, so collinear columns are dropped in the order they come.
 */
export function choleskyInPlace(a: Float64Array, n: number, isOff?: Uint8Array): void {
  for (let j = 0; j < n; j++) {
    const rowJ = j * n;
    const original = a[rowJ + j]!;
    let pivot = original;
    for (let k = 0; k < j; k++) pivot -= a[rowJ + k]! * a[rowJ + k]!;
    if (!(pivot > LEAST_PIVOT * original) || !(original > 0)) {
      if (isOff !== undefined) isOff[j] = 1;
      for (let k = 0; k < j; k++) a[rowJ + k] = 0;
      a[rowJ + j] = 1;
      for (let i = j + 1; i < n; i++) a[i * n + j] = 0;
      continue;
    }
    const root = Math.sqrt(pivot);
    a[rowJ + j] = root;
    for (let i = j + 1; i < n; i++) {
      const rowI = i * n;
      let sum = a[rowI + j]!;
      for (let k = 0; k < j; k++) sum -= a[rowI + k]! * a[rowJ + k]!;
      a[rowI + j] = sum / root;
    }
  }
}

/** Solves L v = b in place. */
export function solveLower(l: Float64Array, n: number, b: Float64Array): void {
  for (let i = 0; i < n; i++) {
    const row = i * n;
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= l[row + k]! * b[k]!;
    b[i] = sum / l[row + i]!;
  }
}

/** Solves L' v = b in place. */
export function solveUpper(l: Float64Array, n: number, b: Float64Array): void {
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i]!;
    for (let k = i + 1; k < n; k++) sum -= l[k * n + i]! * b[k]!;
    b[i] = sum / l[i * n + i]!;
  }
}

/** ln det A from its factor. */
export function logDeterminant(l: Float64Array, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i++) sum += Math.log(l[i * n + i]!);
  return 2 * sum;
}
