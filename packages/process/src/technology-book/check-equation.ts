import { type Problem, problem } from '@gapwright/base';
import { extentOf } from './extent.js';
import { constantOf, evaluatePolynomial, type Polynomial } from './polynomial.js';

/** How an equation stands to the burns it claims to describe. */
export interface EquationCheck {
  /** Mean of equation less burn. */
  readonly meanResidual: number;
  /** Root mean square of the residuals. */
  readonly rms: number;
  readonly largest: number;
  readonly problems: readonly Problem[];
}

/** A constant with the wrong sign shifts every value by twice itself; agreement within this share of the shift tells it apart. */
const SIGN_SHARE = 0.02;

/**
 * Holds an equation against burns. Stops `TECH-EQUATION-SIGN` when every value is off by twice the constant (the sign was
 * copied wrong), `TECH-EQUATION-DISAGREES` when it is worse than the mean of the burns.
 */
export function checkEquation(
  equation: Polynomial,
  inputs: readonly (readonly number[])[],
  measured: readonly number[],
): EquationCheck {
  const residuals = measured.map((y, k) => evaluatePolynomial(equation, inputs[k]!) - y);
  const mean = average(residuals);
  const rms = Math.sqrt(average(residuals.map((r) => r * r)));
  const largest = extentOf(residuals.map(Math.abs))[1];
  const problems: Problem[] = [];
  const constant = constantOf(equation);
  const measuredMean = average(measured);
  const spread = Math.sqrt(average(measured.map((y) => (y - measuredMean) ** 2)));
  if (constant !== 0 && Math.abs(mean - 2 * constant) <= SIGN_SHARE * Math.abs(2 * constant)) {
    const what = `Every value of the equation is off by ${mean.toPrecision(4)}, twice its constant ${constant}`;
    const fix = `The sign of the constant was copied wrong: use ${-constant}`;
    problems.push(problem({ code: 'TECH-EQUATION-SIGN', severity: 'stop', what, fix }));
  } else if (rms > spread) {
    const what = `The equation misses the burns by ${rms.toPrecision(3)} (root mean square), more than the burns spread themselves (${spread.toPrecision(3)})`;
    const fix = 'Check the copy of the equation, its units and whether it wants coded levels';
    problems.push(problem({ code: 'TECH-EQUATION-DISAGREES', severity: 'stop', what, fix }));
  }
  return { meanResidual: mean, rms, largest, problems };
}

/** Where an equation is meant to be used. */
export interface EquationRange {
  /** Physical range of each variable, in the order of the equation. */
  readonly inputs: readonly (readonly [low: number, high: number])[];
  /** Range the result can have. */
  readonly result: readonly [low: number, high: number];
}

/** The level −1 to 1 of a physical value in its range. */
export function codedLevel(value: number, [low, high]: readonly [number, number]): number {
  return (2 * value - low - high) / (high - low);
}

/**
 * Finds out whether an equation wants physical values or coded levels (−1 to 1), by the middle and all corners of its range.
 * `problems` names the trap when physical values give nonsense and coded levels do not (`TECH-EQUATION-CODED`) or when
 * neither gives a possible result (`TECH-EQUATION-DISAGREES`).
 */
export function inputScaleOf(
  equation: Polynomial,
  { inputs, result }: EquationRange,
): { readonly scale: 'physical' | 'coded' | 'neither'; readonly problems: readonly Problem[] } {
  const places = cornersAndMiddle(inputs);
  const inside = (values: readonly number[]): boolean => {
    const y = evaluatePolynomial(equation, values);
    return y >= result[0] && y <= result[1];
  };
  if (places.every(inside)) return { scale: 'physical', problems: [] };
  const middle = inputs.map(([low, high]) => (low + high) / 2);
  if (places.every((place) => inside(place.map((v, k) => codedLevel(v, inputs[k]!))))) {
    const what = `With physical values the equation gives ${evaluatePolynomial(equation, middle).toPrecision(3)} in the middle of its range, outside ${result[0]} to ${result[1]}; with coded levels −1 to 1 it fits`;
    const fix = 'Turn each value into its level first';
    return { scale: 'coded', problems: [problem({ code: 'TECH-EQUATION-CODED', severity: 'warn', what, fix })] };
  }
  const what = `Neither physical values nor coded levels keep the equation within ${result[0]} to ${result[1]}`;
  const fix = 'Check the copy of the equation and the ranges';
  return { scale: 'neither', problems: [problem({ code: 'TECH-EQUATION-DISAGREES', severity: 'stop', what, fix })] };
}

function cornersAndMiddle(inputs: EquationRange['inputs']): number[][] {
  let corners: number[][] = [[]];
  for (const [low, high] of inputs)
    corners = corners.flatMap((c) => [
      [...c, low],
      [...c, high],
    ]);
  return [inputs.map(([low, high]) => (low + high) / 2), ...corners];
}

function average(values: readonly number[]): number {
  return values.reduce((sum, v) => sum + v, 0) / values.length;
}
