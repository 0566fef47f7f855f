import { EFFECT_KINDS, type EffectKind } from './burn.js';

/** Standard deviations of the burn model, on the log scale (0.1 is about 10 %). */
export interface Spreads {
  readonly effects: Readonly<Record<EffectKind, number>>;
  /** Scale of one burn's own noise. */
  readonly noise: number;
  /** How far a machine wanders in the square root of a day. */
  readonly wander: number;
}

/** Names of the spreads in a fixed order. */
export const SPREAD_NAMES = [...EFFECT_KINDS, 'noise', 'wander'] as const;
export type SpreadName = (typeof SPREAD_NAMES)[number];

/**
 * Where the search starts and what it is drawn to while there are few burns. Common practice: materials differ from a chart by
 * up to a factor of two, machines and wires by 10 to 15 %, and repeated burns by about 10 %.
 */
export const STARTING_SPREADS: Spreads = {
  effects: { common: 0.18, material: 0.28, machine: 0.12, tool: 0.08, height: 0.08, level: 0.12 },
  // Student-t scale of about 10 % standard deviation.
  noise: 0.08,
  wander: 0.005,
};

/** How far a spread may be from its starting value: log standard deviation of its prior. */
export const SPREAD_DOUBT: Readonly<Record<SpreadName, number>> = {
  common: 0.5,
  material: 0.5,
  machine: 0.7,
  tool: 0.7,
  height: 0.7,
  level: 0.7,
  noise: 0.6,
  wander: 1,
};

export function spreadOf(spreads: Spreads, name: SpreadName): number {
  return name === 'noise' || name === 'wander' ? spreads[name] : spreads.effects[name];
}

export function withSpread(spreads: Spreads, name: SpreadName, value: number): Spreads {
  if (name === 'noise' || name === 'wander') return { ...spreads, [name]: value };
  return { ...spreads, effects: { ...spreads.effects, [name]: value } };
}

/** Log density of the priors of all spreads, up to a constant. */
export function logPrior(spreads: Spreads): number {
  let sum = 0;
  for (const name of SPREAD_NAMES) {
    const z = Math.log(spreadOf(spreads, name) / spreadOf(STARTING_SPREADS, name)) / SPREAD_DOUBT[name];
    sum -= 0.5 * z * z;
  }
  return sum;
}
