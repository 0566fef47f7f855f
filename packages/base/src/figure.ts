import type { Law } from './law.js';
import type { Source } from './source.js';

/** A unit as written beside a number, e.g. `mm`, `um`, `mm2/min`, `min`, `EUR/h`, `1` for a plain ratio. */
export type Unit = string;

/** Half-width of an 80 % interval in standard deviations (normal distribution, 10 % in each tail). */
export const Z_80 = 1.2815515655446004;

/** Why a figure has its value: somebody gave it, or a law made it from other figures. */
export type Reason =
  | { readonly kind: 'given'; readonly says: string; readonly source: Source }
  | {
      readonly kind: 'law';
      readonly law: Law;
      readonly inputs: Readonly<Record<string, Figure>>;
      /** The doubt this law itself adds, e.g. `material:D2`; undefined when the law is exact. */
      readonly scatterCause?: string;
      /** One sentence per input that lies outside the range the law was made for. */
      readonly outsideRange?: readonly string[];
    };

/**
 * A number with its unit, its 80 % interval and its reason.
 * `doubts` holds, for each cause of uncertainty, by how much the value moves for one standard deviation of that cause
 * (in the figure's unit). Two figures that share a cause move together.
 */
export interface Figure {
  readonly value: number;
  readonly unit: Unit;
  readonly low: number;
  readonly high: number;
  readonly doubts: Readonly<Record<string, number>>;
  readonly reason: Reason;
}

const NO_DOUBTS: Readonly<Record<string, number>> = Object.freeze({});

/** Options of {@link given}. */
export interface Doubt {
  /** Relative standard deviation on the log scale, e.g. 0.2 for about 20 %. */
  readonly relative: number;
  /** What the doubt belongs to, e.g. `material:D2`. Figures with the same cause move together. */
  readonly cause: string;
}

/** A figure that somebody stated, measured or published. Exact unless a doubt is named. */
export function given(value: number, unit: Unit, says: string, source: Source, doubt?: Doubt): Figure {
  const reason: Reason = { kind: 'given', says, source };
  if (doubt === undefined || doubt.relative === 0 || value === 0) return exact(value, unit, reason);
  return withDoubts(value, unit, { [doubt.cause]: Math.abs(value) * doubt.relative }, reason);
}

/** A figure without doubt. */
export function exact(value: number, unit: Unit, reason: Reason): Figure {
  return Object.freeze({ value, unit, low: value, high: value, doubts: NO_DOUBTS, reason });
}

/** A figure with the given doubts; the interval is log-normal for positive values and normal otherwise. */
export function withDoubts(
  value: number,
  unit: Unit,
  doubts: Readonly<Record<string, number>>,
  reason: Reason,
): Figure {
  let variance = 0;
  for (const cause in doubts) variance += doubts[cause]! * doubts[cause]!;
  if (variance === 0) return exact(value, unit, reason);
  const sd = Math.sqrt(variance);
  if (value > 0) {
    const factor = Math.exp((Z_80 * sd) / value);
    return Object.freeze({ value, unit, low: value / factor, high: value * factor, doubts, reason });
  }
  return Object.freeze({ value, unit, low: value - Z_80 * sd, high: value + Z_80 * sd, doubts, reason });
}

/** True for values made by this module. */
export function isFigure(candidate: unknown): candidate is Figure {
  return typeof candidate === 'object' && candidate !== null && 'doubts' in candidate && 'reason' in candidate;
}

/** True when the figure carries any doubt. */
export function isDoubtful(figure: Figure): boolean {
  return figure.low !== figure.high;
}
