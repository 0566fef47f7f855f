import { seededRandom } from '@gapwright/base';
import { type Burn, heightBand } from './burn.js';

/** Shops with known truth, for checking what the learning promises. All invented. */
export type Scenario = 'steady' | 'drifting machine' | 'wrong prior' | 'outliers' | 'few data';

export const SCENARIOS: readonly Scenario[] = ['steady', 'drifting machine', 'wrong prior', 'outliers', 'few data'];

/** A made-up log with the truth behind it. */
export interface SimulatedShop {
  readonly burns: readonly Burn[];
  /** Material that the book has wrong by a factor of two in `wrong prior`. */
  readonly wrongMaterial: string;
  readonly driftingMachine: string;
  /** Scale of one burn's own noise, log. */
  readonly noise: number;
}

const BURNS: Readonly<Record<Scenario, number>> = {
  steady: 150,
  'drifting machine': 200,
  'wrong prior': 150,
  outliers: 150,
  'few data': 20,
};
const NOISE = 0.1;
/** Rise of the drifting machine over the whole log, log scale: 35 % slower at the end. */
const DRIFT = 0.3;
const OUTLIER_SHARE = 0.1;

/** Draws a shop: effects of materials, machines, wires, heights and levels, then burns under them. Same seed, same shop. */
export function simulateShop(seed: number, scenario: Scenario): SimulatedShop {
  const random = seededRandom(seed * 7 + SCENARIOS.indexOf(scenario));
  const drawn = (names: readonly string[], sd: number): Map<string, number> =>
    new Map(names.map((name) => [name, sd * random.normal()]));
  const materials = drawn(['D2', 'H13', '316L', 'Ti-6Al-4V', 'Inconel718', 'WC-10Co'], 0.25);
  const machines = drawn(['W1', 'W2', 'W3', 'W4'], 0.1);
  const tools = drawn(['B10', 'B15', 'B20', 'B25', 'B30'], 0.08);
  const levels = drawn(['1', '2', '3', '4'], 0.1);
  const heights = drawn([5, 20, 40, 80, 150].map(heightBand), 0.08);
  const common = 0.15 * random.normal();
  const wrongMaterial = 'Ti-6Al-4V';
  const driftingMachine = 'W2';
  if (scenario === 'wrong prior') materials.set(wrongMaterial, random.uniform() < 0.5 ? Math.log(2) : -Math.log(2));
  const pick = (map: Map<string, number>): string => [...map.keys()][random.below(map.size)]!;
  const count = BURNS[scenario];
  let day = 0;
  const burns = Array.from({ length: count }, (_, k): Burn => {
    day += random.uniform() * 2;
    const material = pick(materials);
    const machine = pick(machines);
    const tool = pick(tools);
    const level = pick(levels);
    const heightMm = Math.exp(Math.log(5) + random.uniform() * Math.log(36));
    const predictedMin = Math.exp(3 + random.normal());
    let truth = common + materials.get(material)! + machines.get(machine)! + tools.get(tool)! + levels.get(level)!;
    truth += heights.get(heightBand(heightMm)) ?? 0;
    if (scenario === 'drifting machine' && machine === driftingMachine) truth += (DRIFT * k) / count;
    let noise = NOISE * random.normal();
    if (scenario === 'outliers' && random.uniform() < OUTLIER_SHARE) noise += 0.6 * random.normal();
    const actualMin = predictedMin * Math.exp(truth + noise);
    return { day, actualMin, predictedMin, material, machine, tool, heightMm, level };
  });
  return { burns, wrongMaterial, driftingMachine, noise: NOISE };
}
