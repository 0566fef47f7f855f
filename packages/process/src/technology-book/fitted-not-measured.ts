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

/**
 * Measured results scatter; results computed from a fitted formula do not. Says whether `y` is an exact sum of one effect
 * per factor level (also on logs) or an exact quadratic of the factors, up to rounding to `step`. Null when it is not, or
 * when there are too few rows to tell.
 */
export function fittedNotMeasured(
  factors: readonly (readonly number[])[],
  y: readonly number[],
  step: number,
): FittedFinding | null {
  const spread = Math.max(...y) - Math.min(...y);
  if (y.length < LEAST_FREEDOM + 2 || !(spread >= LEAST_STEPS * step)) return null;
  const levels = levelColumns(factors);
  const candidates: {
    kind: FittedFinding['kind'];
    features: number[][];
    values: readonly number[];
    allowed: number;
  }[] = [
    { kind: 'additive', features: levels, values: y, allowed: RESIDUAL_STEPS * step },
    { kind: 'quadratic', features: quadraticColumns(factors), values: y, allowed: RESIDUAL_STEPS * step },
  ];
  const smallest = Math.min(...y);
  if (smallest > 0) {
    const logs = y.map((v) => Math.log(v));
    // On logs a step of the last digit weighs most for the smallest result.
    candidates.splice(1, 0, {
      kind: 'additive on logs',
      features: levels,
      values: logs,
      allowed: (RESIDUAL_STEPS * step) / smallest,
    });
  }
  for (const { kind, features, values, allowed } of candidates) {
    const { largest, freedom } = fitResidual(features, values);
    const valueSpread = Math.max(...values) - Math.min(...values);
    if (freedom >= LEAST_FREEDOM && largest <= allowed && valueSpread >= LEAST_STEPS * allowed) {
      return { kind, largestResidual: largest, freedom };
    }
  }
  return null;
}

/** One column per level of each factor, and a constant. */
function levelColumns(factors: readonly (readonly number[])[]): number[][] {
  const count = factors[0]?.length ?? 0;
  const levels = Array.from({ length: count }, (_, f) => [...new Set(factors.map((row) => row[f]!))]);
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
    const low = Math.min(...column);
    const high = Math.max(...column);
    return (v: number): number => (high > low ? (2 * v - low - high) / (high - low) : 0);
  });
  return factors.map((row) => {
    const x = row.map((v, f) => scale[f]!(v));
    const out = [1, ...x];
    for (let i = 0; i < count; i++) for (let j = i; j < count; j++) out.push(x[i]! * x[j]!);
    return out;
  });
}
