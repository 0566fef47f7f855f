import { exact, type Figure, type Reason, type Unit, withDoubts } from './figure.js';
import { BugError } from './problem.js';
import type { Source } from './source.js';

/** What a law needs of one input. */
export interface LawInput {
  readonly unit: Unit;
  /** The input in plain words, e.g. `work height`. */
  readonly says: string;
  /** Range in which the law was made; outside it the figure says so. */
  readonly valid?: readonly [low: number, high: number];
}

/**
 * A named formula. Applied to figures it gives a figure whose working can be opened.
 * `evaluate` must be pure and finite for inputs inside the valid ranges.
 */
export interface Law<In extends string = string> {
  readonly id: string;
  /** One sentence in plain words. */
  readonly says: string;
  /** The formula as text, with the input names. */
  readonly formula: string;
  readonly source: Source;
  readonly inputs: Readonly<Record<In, LawInput>>;
  readonly output: Unit;
  /** Relative scatter (log standard deviation) the law itself adds, and the kind of thing it belongs to (`material`, `machine`, `wire` …). */
  readonly scatter?: { readonly relative: number; readonly cause: string };
  /** Any number of inputs of one unit, added up. */
  readonly variadic?: boolean;
  /** The output is a decision made on the inputs' values (a price, a chosen count): the inputs' doubts do not pass into it. */
  readonly decides?: boolean;
  evaluate(inputs: Readonly<Record<In, number>>): number;
}

const laws = new Map<string, Law>();

/** Declares a law. Ids are unique in the whole program. */
export function defineLaw<In extends string>(declaration: Law<In>): Law<In> {
  if (laws.has(declaration.id)) throw new BugError(`law "${declaration.id}" is declared twice`);
  const law = Object.freeze(declaration);
  laws.set(law.id, law as unknown as Law);
  return law;
}

/** All declared laws, by id. */
export function allLaws(): ReadonlyMap<string, Law> {
  return laws;
}

/** Relative step of the central difference that finds how much an output moves with an input. */
const DERIVATIVE_STEP = 1e-4;

/**
 * Applies a law to figures. Doubts travel by first-order propagation, each under its own cause, so that correlated
 * doubts stay correlated. `about` names the thing the law's own scatter belongs to (e.g. `D2` for cause `material`).
 */
export function apply<In extends string>(law: Law<In>, inputs: Readonly<Record<In, Figure>>, about?: string): Figure {
  const names = Object.keys(inputs) as In[];
  const numbers = {} as Record<In, number>;
  let outsideRange: string[] | undefined;
  let anyDoubt = false;
  for (const name of names) {
    const figure = inputs[name];
    numbers[name] = figure.value;
    if (figure.low !== figure.high) anyDoubt = true;
    const declared = law.inputs[name] as LawInput | undefined;
    if (declared === undefined) {
      if (law.variadic) continue;
      throw new BugError(`law "${law.id}" has no input "${name}"`);
    }
    if (declared.unit !== figure.unit) {
      throw new BugError(`law "${law.id}" wants ${name} in ${declared.unit}, got ${figure.unit}`);
    }
    const valid = declared.valid;
    if (valid !== undefined && (figure.value < valid[0] || figure.value > valid[1])) {
      outsideRange ??= [];
      outsideRange.push(
        `${declared.says} ${Number(figure.value.toPrecision(4))} ${figure.unit} lies outside ${valid[0]} to ${valid[1]}`,
      );
    }
  }
  const value = law.evaluate(numbers);
  if (!Number.isFinite(value)) {
    throw new BugError(`law "${law.id}" gave ${value} for ${JSON.stringify(numbers)}`);
  }
  const scatter = law.scatter;
  const scatterCause = scatter === undefined ? undefined : `${scatter.cause}:${about ?? 'all'}`;
  const reason: Reason = {
    kind: 'law',
    law: law as unknown as Law,
    inputs,
    ...(scatterCause === undefined ? {} : { scatterCause }),
    ...(outsideRange === undefined ? {} : { outsideRange }),
  };
  if (law.decides || (!anyDoubt && scatter === undefined)) return exact(value, law.output, reason);

  const doubts: Record<string, number> = {};
  if (anyDoubt) {
    for (const name of names) {
      const figure = inputs[name];
      if (figure.low === figure.high) continue;
      const slope = law.variadic ? 1 : slopeAt(law, numbers, name);
      for (const cause in figure.doubts) doubts[cause] = (doubts[cause] ?? 0) + slope * figure.doubts[cause]!;
    }
  }
  if (scatter !== undefined && scatterCause !== undefined) {
    doubts[scatterCause] = (doubts[scatterCause] ?? 0) + Math.abs(value) * scatter.relative;
  }
  return withDoubts(value, law.output, doubts, reason);
}

/** Central difference of the law in one input; the other inputs stay. */
function slopeAt<In extends string>(law: Law<In>, numbers: Record<In, number>, name: In): number {
  const at = numbers[name];
  const step = (Math.abs(at) || 1) * DERIVATIVE_STEP;
  numbers[name] = at + step;
  const up = law.evaluate(numbers);
  numbers[name] = at - step;
  const down = law.evaluate(numbers);
  numbers[name] = at;
  const slope = (up - down) / (2 * step);
  if (!Number.isFinite(slope)) throw new BugError(`law "${law.id}" has no finite slope in "${name}" at ${at}`);
  return slope;
}
