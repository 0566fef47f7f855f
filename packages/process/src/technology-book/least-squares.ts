/** Result of a least-squares fit that tolerates dependent columns. */
export interface FitResidual {
  /** Largest absolute residual. */
  readonly largest: number;
  /** Rows less independent columns. */
  readonly freedom: number;
}

/** A column adds nothing when less than this share of its length is left after taking out the others. */
const DEPENDENT_SHARE = 1e-9;

/**
 * Residual of the least-squares fit of `y` by the columns of `features` (rows of numbers). Works by modified Gram-Schmidt,
 * done twice against loss of orthogonality, so that designs with dependent columns give the right number of freedoms.
 */
export function fitResidual(features: readonly (readonly number[])[], y: readonly number[]): FitResidual {
  const rows = y.length;
  const columns = features[0]?.length ?? 0;
  const basis: Float64Array[] = [];
  for (let c = 0; c < columns; c++) {
    const v = Float64Array.from(features, (row) => row[c]!);
    const length = norm(v);
    if (length === 0) continue;
    for (let pass = 0; pass < 2; pass++) for (const q of basis) takeOut(v, q);
    const left = norm(v);
    if (left <= DEPENDENT_SHARE * length) continue;
    for (let i = 0; i < rows; i++) v[i]! /= left;
    basis.push(v);
  }
  const rest = Float64Array.from(y);
  for (let pass = 0; pass < 2; pass++) for (const q of basis) takeOut(rest, q);
  let largest = 0;
  for (const r of rest) largest = Math.max(largest, Math.abs(r));
  return { largest, freedom: rows - basis.length };
}

function norm(v: Float64Array): number {
  let sum = 0;
  for (const x of v) sum += x * x;
  return Math.sqrt(sum);
}

/** Takes the part along the unit vector `q` out of `v`. */
function takeOut(v: Float64Array, q: Float64Array): void {
  let along = 0;
  for (let i = 0; i < v.length; i++) along += v[i]! * q[i]!;
  for (let i = 0; i < v.length; i++) v[i]! -= along * q[i]!;
}
