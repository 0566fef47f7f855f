import type { Inputs } from './features.js';

/** Scatter of the process itself, from rows with the very same inputs. No model can be better than it. */
export interface Replicates {
  /** Settings measured more than once. */
  readonly settings: number;
  /** Pure-error degrees of freedom: repeated rows minus settings. */
  readonly freedom: number;
  /** Pooled standard deviation, unit of the response. */
  readonly sd: number;
  /** CRPS of a perfect forecast of normal noise of that size: sd / sqrt(pi). */
  readonly crpsFloor: number;
  /** Mean distance from the mean of normal noise of that size: sd sqrt(2 / pi). */
  readonly maeFloor: number;
}

/** Null when no setting is repeated. The spread is taken where the repeats are; it may differ elsewhere. */
export function replicatesOf(inputs: Inputs, response: Float64Array): Replicates | null {
  const bySetting = new Map<string, number[]>();
  for (let i = 0; i < inputs.rows; i++) {
    const key = [...inputs.numeric.map((c) => c[i]!), ...inputs.groups.map((g) => g.levelOf[i]!)].join('|');
    const list = bySetting.get(key);
    if (list === undefined) bySetting.set(key, [response[i]!]);
    else list.push(response[i]!);
  }
  let square = 0;
  let freedom = 0;
  let settings = 0;
  for (const list of bySetting.values()) {
    if (list.length < 2) continue;
    settings++;
    freedom += list.length - 1;
    const mean = list.reduce((a, b) => a + b, 0) / list.length;
    for (const v of list) square += (v - mean) * (v - mean);
  }
  if (freedom === 0) return null;
  const sd = Math.sqrt(square / freedom);
  return { settings, freedom, sd, crpsFloor: sd / Math.sqrt(Math.PI), maeFloor: sd * Math.sqrt(2 / Math.PI) };
}
