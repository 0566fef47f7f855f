import {
  type ErosionProcess,
  roleOf,
  TECHNOLOGY_QUANTITIES,
  TECHNOLOGY_QUANTITY_NAMES,
  type TechnologyQuantity,
} from '@gapwright/process';
import { InputError } from './input-error.js';
import { numberFlag } from './parse-arguments.js';

/** What a planner calls a result; several where the points decide. */
const RESPONSE_WORDS: Readonly<Record<string, readonly TechnologyQuantity[]>> = {
  rate: ['removalMm3PerMin', 'areaRateMm2PerMin'],
  feed: ['feedMmPerMin'],
  ra: ['raUm'],
  gap: ['gapMm'],
  wear: ['wearMm3PerMin', 'wearRatio'],
  wearratio: ['wearRatio'],
  recast: ['recastUm'],
};

/** Other names of conditions that stand in many tables; the unit is part of the name. */
const CONDITION_WORDS: Readonly<Record<string, TechnologyQuantity>> = {
  pulseonus: 'onTimeUs',
  tonus: 'onTimeUs',
  pulseoffus: 'offTimeUs',
  toffus: 'offTimeUs',
  pulsecurrenta: 'currentA',
  areamm2: 'frontalAreaMm2',
};

/** Names are compared without case, blanks, hyphens and underscores: `on_time_us` is `onTimeUs`. */
const plain = (name: string): string => name.toLowerCase().replace(/[\s_-]/g, '');

const namesOf = (role: 'condition' | 'result'): TechnologyQuantity[] =>
  TECHNOLOGY_QUANTITY_NAMES.filter((name) => roleOf(name) === role);

/** The results a word can mean. */
export function responseOf(word: string): readonly TechnologyQuantity[] {
  const named = namesOf('result').find((name) => plain(name) === plain(word));
  if (named !== undefined) return [named];
  const known = plain(word);
  if (Object.hasOwn(RESPONSE_WORDS, known)) return RESPONSE_WORDS[known]!;
  const words = 'rate, feed, ra, gap, wear, wear-ratio, recast';
  throw new InputError(`--response ${word} is no result. Use ${words}, or one of ${namesOf('result').join(', ')}.`);
}

/** A way of erosion as typed. */
export function processOf(word: string): ErosionProcess {
  const processes: readonly ErosionProcess[] = ['wire', 'sinking', 'small-hole'];
  const found = processes.find((name) => name === word);
  if (found === undefined) throw new InputError(`--process ${word} is not known. Use ${processes.join(', ')}.`);
  return found;
}

/** `NAME=NUMBER,NAME=NUMBER` as conditions; only positive numbers are settings. */
export function conditionsOf(text: string): Partial<Record<TechnologyQuantity, number>> {
  const conditions: Partial<Record<TechnologyQuantity, number>> = {};
  for (const part of text.split(',')) {
    const [name = '', number, ...more] = part.split('=').map((s) => s.trim());
    if (name === '' || number === undefined || more.length > 0) {
      const shape = 'Write NAME=NUMBER, decimals with a point, a comma between two';
      throw new InputError(`--at: "${part.trim()}" is no condition. ${shape}, e.g. "pulse_on_us=50,current_A=8".`);
    }
    const quantity = conditionOf(name);
    if (conditions[quantity] !== undefined) throw new InputError(`--at states ${quantity} twice. State it once.`);
    const flag = `at ${name}`;
    const value = numberFlag({ [flag]: number }, flag)!;
    if (!(value > 0 && Number.isFinite(value))) {
      throw new InputError(`--at ${name}=${number}: a ${TECHNOLOGY_QUANTITIES[quantity].says} is above 0. Correct it.`);
    }
    conditions[quantity] = value;
  }
  return conditions;
}

function conditionOf(name: string): TechnologyQuantity {
  const known = plain(name);
  const found = namesOf('condition').find((quantity) => plain(quantity) === known);
  if (found !== undefined) return found;
  if (Object.hasOwn(CONDITION_WORDS, known)) return CONDITION_WORDS[known]!;
  throw new InputError(
    `--at: "${name}" is no condition. Use ${namesOf('condition').join(', ')}; the unit is part of the name.`,
  );
}
