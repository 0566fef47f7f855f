import { choleskyInPlace, solveLower } from '../cholesky.js';
import type { Design } from './block-model.js';

/** Inputs of a regression after cleaning: numeric columns as they are, and group numbers of text columns. */
export interface Inputs {
  readonly rows: number;
  /** One array per numeric column, none constant. */
  readonly numeric: readonly Float64Array[];
  /** One array of level numbers per text column. */
  readonly groups: readonly { readonly levelOf: Int32Array; readonly levels: number }[];
}

/** A feature map: how inputs become columns, with blocks that share a prior. */
export interface FeatureMap {
  readonly name: string;
  readonly designs: readonly Design[];
  /** How many precisions and length scales are chosen from the data. */
  readonly tuned: number;
}

/** Most columns with products of two inputs; beyond it only squares are made. */
const MOST_PRODUCT_INPUTS = 8;
/** Points that carry the smooth part. All rows when there are few. */
const MOST_LANDMARKS = 60;
/** Length scales tried, in standard deviations of the inputs. */
const LENGTHS = [0.7, 1.5, 3, 6];
/** Added to the diagonal of the kernel between landmarks: keeps twins apart numerically. */
const KERNEL_JITTER = 1e-8;

/** Natural logarithm where every value is positive, else the value itself; both to mean 0 and sd 1. */
function standardised(column: Float64Array, isLogAllowed = true): Float64Array {
  const isPositive = isLogAllowed && column.every((v) => v > 0);
  const out = isPositive ? column.map((v) => Math.log(v)) : column.slice();
  const n = out.length;
  let mean = 0;
  for (const v of out) mean += v / n;
  let square = 0;
  for (const v of out) square += ((v - mean) * (v - mean)) / n;
  const sd = Math.sqrt(square) || 1;
  for (let i = 0; i < n; i++) out[i] = (out[i]! - mean) / sd;
  return out;
}

type Column = { readonly values: Float64Array; readonly block: number };

function designOf(rows: number, columns: readonly Column[]): Design {
  const p = columns.length;
  const cells = new Float64Array(rows * p);
  const used = [...new Set(columns.map((c) => c.block).filter((b) => b >= 0))].sort((a, b) => a - b);
  columns.forEach(({ values }, a) => {
    for (let i = 0; i < rows; i++) cells[i * p + a] = values[i]!;
  });
  const blockOf = Int32Array.from(columns, (c) => (c.block < 0 ? -1 : used.indexOf(c.block)));
  return { rows, columns: p, cells, blockOf, blockCount: used.length };
}

/** The feature maps tried, simplest first. The first is the mean alone, the second plain least squares. */
export function featureMaps(inputs: Inputs, isPlainOnly = false): readonly FeatureMap[] {
  const { rows, numeric, groups } = inputs;
  const one: Column = { values: new Float64Array(rows).fill(1), block: -1 };
  const maps: FeatureMap[] = [{ name: 'mean', designs: [designOf(rows, [one])], tuned: 0 }];
  if (numeric.length === 0 && groups.length === 0) return maps;
  const z = numeric.map((c) => standardised(c));
  const main = z.map((values): Column => ({ values, block: 0 }));
  const byGroup = groups.flatMap((g, k) => groupColumns(rows, g, 100 + k));
  if (z.length > 0) {
    maps.push({
      name: 'log-linear',
      designs: [designOf(rows, [one, ...z.map((values) => ({ values, block: -1 }))])],
      tuned: 0,
    });
  }
  if (isPlainOnly) return maps;
  maps.push({
    name: 'shrunk log-linear',
    designs: [designOf(rows, [one, ...main, ...byGroup])],
    tuned: 1 + groups.length,
  });
  if (z.length === 0) return maps;
  maps.push({ name: 'second order', designs: [secondOrderDesign(rows, one, z, byGroup)], tuned: 2 + groups.length });
  // Designed experiments step evenly in the plain values; there the plain polynomial is the smoother one.
  const plain = numeric.map((c) => standardised(c, false));
  const isOther = numeric.some((c) => c.every((v) => v > 0));
  if (isOther) {
    const designs = [secondOrderDesign(rows, one, plain, byGroup)];
    maps.push({ name: 'second order of plain inputs', designs, tuned: 2 + groups.length });
  }
  const landmarks = chooseLandmarks(z, rows);
  maps.push({
    name: 'smooth',
    tuned: 3 + groups.length,
    designs: LENGTHS.map((length) =>
      designOf(rows, [
        one,
        ...main,
        ...byGroup,
        ...smoothColumns(z, landmarks, length * Math.sqrt(Math.min(z.length, 4))),
      ]),
    ),
  });
  return maps;
}

function secondOrderDesign(rows: number, one: Column, z: readonly Float64Array[], byGroup: readonly Column[]): Design {
  const main = z.map((values): Column => ({ values, block: 0 }));
  return designOf(rows, [one, ...main, ...secondOrder(z), ...byGroup]);
}

function groupColumns(rows: number, group: Inputs['groups'][number], block: number): Column[] {
  const out: Column[] = [];
  for (let level = 0; level < group.levels; level++) {
    const values = new Float64Array(rows);
    for (let i = 0; i < rows; i++) values[i] = group.levelOf[i] === level ? 1 : 0;
    out.push({ values, block });
  }
  return out;
}

function secondOrder(z: readonly Float64Array[]): Column[] {
  const out: Column[] = [];
  for (let a = 0; a < z.length; a++) {
    for (let b = z.length > MOST_PRODUCT_INPUTS ? a : 0; b <= a; b++) {
      const product = z[a]!.map((v, i) => v * z[b]![i]!);
      // A two-valued input has a constant square; it says nothing.
      const first = product[0]!;
      if (product.every((v) => Math.abs(v - first) < 1e-9)) continue;
      out.push({ values: standardised(product, false), block: 1 });
    }
  }
  return out;
}

/** Rows far from each other, found one by one (farthest point first), so that they span the inputs. */
function chooseLandmarks(z: readonly Float64Array[], rows: number): number[] {
  const chosen = [0];
  const distance = new Float64Array(rows).fill(Number.POSITIVE_INFINITY);
  while (chosen.length < Math.min(rows, MOST_LANDMARKS)) {
    const last = chosen.at(-1)!;
    let far = -1;
    let farthest = 1e-12;
    for (let i = 0; i < rows; i++) {
      distance[i] = Math.min(distance[i]!, squareDistance(z, i, last));
      if (distance[i]! > farthest) {
        farthest = distance[i]!;
        far = i;
      }
    }
    if (far < 0) break;
    chosen.push(far);
  }
  return chosen;
}

function squareDistance(z: readonly Float64Array[], i: number, j: number): number {
  let sum = 0;
  for (const column of z) {
    const d = column[i]! - column[j]!;
    sum += d * d;
  }
  return sum;
}

/** Columns whose ridge regression is a Gaussian process with a squared-exponential kernel seen through the landmarks. */
function smoothColumns(z: readonly Float64Array[], landmarks: readonly number[], length: number): Column[] {
  const m = landmarks.length;
  const rows = z[0]!.length;
  const kernel = (i: number, j: number): number => Math.exp((-0.5 * squareDistance(z, i, j)) / (length * length));
  const between = new Float64Array(m * m);
  for (let a = 0; a < m; a++) {
    for (let b = 0; b <= a; b++)
      between[a * m + b] = kernel(landmarks[a]!, landmarks[b]!) + (a === b ? KERNEL_JITTER : 0);
  }
  choleskyInPlace(between, m);
  const columns = Array.from({ length: m }, () => new Float64Array(rows));
  const v = new Float64Array(m);
  for (let i = 0; i < rows; i++) {
    for (let a = 0; a < m; a++) v[a] = kernel(i, landmarks[a]!);
    solveLower(between, m, v);
    for (let a = 0; a < m; a++) columns[a]![i] = v[a]!;
  }
  return columns.map((values) => ({ values, block: 50 }));
}
