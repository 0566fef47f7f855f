import { extentOf } from './extent.js';
import { fitResidual } from './least-squares.js';

/** A column of results that follows a formula to the last digit. */
export interface FittedFinding {
  readonly kind: 'additive' | 'additive on logs' | 'quadratic';
  readonly largestResidual: number;
  readonly freedom: number;
}

/** Fewer freedoms than this cannot tell a formula from chance. */
const LEAST_FREEDOM = 3;
/** Results that spread over fewer steps of the last digit fit anything. */
const LEAST_STEPS = 20;
/** Rounding to the last digit, carried through a fit, stays below one step. */
const RESIDUAL_STEPS = 1;

/** Rows and columns looked at: enough to tell, few enough to take well under a second. */
const MOST_ROWS = 2000;
const MOST_COLUMNS = 150;

/**
 * Measured results scatter; results computed from a fitted formula do not. Says whether `y` is an exact sum of one effect
 * per factor level (also on logs) or an exact quadratic of the factors, up to rounding to `step`. Null when it is not, or
 * when there are too few rows to tell. Rows that are there twice count once; of long tables the first 2000 rows are judged.
 */
export function fittedNotMeasured(
  factors: readonly (readonly number[])[],
  y: readonly number[],
  step: number,
): FittedFinding | null {
  const kept = new Map(factors.slice(0, MOST_ROWS).map((row, k) => [[...row, y[k]!].join(';'), k]));
  const rows = [...kept.values()].map((k) => factors[k]!);
  const results = [...kept.values()].map((k) => y[k]!);
  const [smallest] = extentOf(results);
  const candidates: Candidate[] = [];
  const levels = levelColumns(rows);
  if (levels !== null) {
    candidates.push({ kind: 'additive', features: levels, values: results, allowed: RESIDUAL_STEPS * step });
    if (smallest > 0) {
      const values = results.map((v) => Math.log(v));
      // On logs a step of the last digit weighs most for the smallest result.
      candidates.push({
        kind: 'additive on logs',
        features: levels,
        values,
        allowed: (RESIDUAL_STEPS * step) / smallest,
      });
    }
  }
  const allowed = RESIDUAL_STEPS * step;
  candidates.push({ kind: 'quadratic', features: quadraticColumns(rows), values: results, allowed });
  for (const { kind, features, values, allowed } of candidates) {
    const [low, high] = extentOf(values);
    if (values.length < LEAST_FREEDOM + 2 || !(high - low >= LEAST_STEPS * allowed)) continue;
    const { largest, freedom } = fitResidual(features, values);
    if (freedom >= LEAST_FREEDOM && largest <= allowed) return { kind, largestResidual: largest, freedom };
  }
  return null;
}

interface Candidate {
  readonly kind: FittedFinding['kind'];
  readonly features: number[][];
  readonly values: readonly number[];
  readonly allowed: number;
}

/** One column per level of each factor, and a constant; null when there are too many levels to leave rows to spare. */
function levelColumns(factors: readonly (readonly number[])[]): number[][] | null {
  const count = factors[0]?.length ?? 0;
  const levels = Array.from({ length: count }, (_, f) => [...new Set(factors.map((row) => row[f]!))]);
  const columns = levels.reduce((sum, ofFactor) => sum + ofFactor.length, 1);
  if (columns > MOST_COLUMNS || columns - count > factors.length - LEAST_FREEDOM) return null;
  return factors.map((row) => [
    1,
    ...levels.flatMap((ofFactor, f) => ofFactor.map((level) => (row[f] === level ? 1 : 0))),
  ]);
}

/** Constant, linear, square and product terms of factors scaled to −1 to 1. */
function quadraticColumns(factors: readonly (readonly number[])[]): number[][] {
  const count = factors[0]?.length ?? 0;
  const scale = Array.from({ length: count }, (_, f) => {
    const column = factors.map((row) => row[f]!);
    const [low, high] = extentOf(column);
    return (v: number): number => (high > low ? (2 * v - low - high) / (high - low) : 0);
  });
  return factors.map((row) => {
    const x = row.map((v, f) => scale[f]!(v));
    const out = [1, ...x];
    for (let i = 0; i < count; i++) for (let j = i; j < count; j++) out.push(x[i]! * x[j]!);
    return out;
  });
}
