import { type Burn, type ReplayedBurn, replayBurns, SCENARIOS, type Scenario, simulateShop } from '@gapwright/process';
import { curvePlot } from './plots.js';
import { percent, type Section, table } from './text.js';

/** First burns of a log are left out of the coverage: nothing is learnt yet, and the starting intervals are wide on purpose. */
const WARM_UP = 5;
const CURVE_BURNS = 40;
/** A point of a curve stands for at least this many burns. */
const FEWEST_BURNS = 20;

/** What each simulated shop is like, in words. */
const WORDS: Readonly<Record<Scenario, string>> = {
  steady: 'nothing changes',
  'drifting machine': 'one machine becomes 35 % slower over the log',
  'wrong prior': 'the book is wrong by a factor of two for one material',
  outliers: 'one burn in ten is disturbed by far more than its noise',
  'few data': '20 burns in all',
};

const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.length === 0 ? Number.NaN : sorted[Math.floor(sorted.length / 2)]!;
};

/** Coverage, error and alarms over many simulated shops with known truth. */
export function shopSection(seeds: number): Section {
  const rows: string[][] = [];
  const curves: { name: string; y: number[] }[] = [];
  let wrongPrior: ReplayedBurn[][] = [];
  for (const scenario of SCENARIOS) {
    const shops = Array.from({ length: seeds }, (_, seed) => replayShop(seed, scenario));
    const counted = shops.flatMap((s) => s.replayed.slice(scenario === 'few data' ? 0 : WARM_UP));
    const share = (isIn: (b: ReplayedBurn) => boolean): number => counted.filter(isIn).length / counted.length;
    const alarmed = shops.filter((s) => s.isAlarmed).length / seeds;
    rows.push([
      scenario,
      WORDS[scenario],
      percent(share((b) => b.isIn80)),
      percent(share((b) => b.isIn95)),
      percent(median(counted.map((b) => b.bookError))),
      percent(median(counted.map((b) => b.error))),
      burnsToHalve(shops.map((s) => s.replayed)),
      percent(alarmed),
    ]);
    curves.push({ name: scenario, y: errorByBurn(shops.map((s) => s.replayed)) });
    if (scenario === 'wrong prior') wrongPrior = shops.map((s) => s.ofWrongMaterial);
  }
  const x = Array.from({ length: CURVE_BURNS }, (_, i) => i + 1);
  const ofMaterial = errorByBurn(wrongPrior);
  const after12 = ofMaterial[12];
  return {
    title: `Simulated shops (${seeds} seeds each, invented, true effects known)`,
    text: [
      table(
        [
          'shop',
          'what it is like',
          'in 80 %',
          'in 95 %',
          'median error of the book',
          'median error learnt',
          'burns until the error halves',
          'logs with a drift alarm',
        ],
        rows,
      ),
      '',
      `Each burn is forecast before it is known, then learnt. The first ${WARM_UP} burns of a log are not counted (all are, with few data). ` +
        'The noise of one burn is 10 %, so a perfect forecast would have a median error of about 6.7 %.',
      '',
      `With the book wrong by a factor of two for one material, the median error of the next burn of that material after 12 of its burns is ${percent(after12 ?? Number.NaN)}.`,
    ].join('\n'),
    plots: [
      {
        name: 'shops-error',
        svg: curvePlot('Median error of the next burn', 'burns learnt before', 'share', x, curves),
      },
      {
        name: 'shops-wrong-prior',
        svg: curvePlot(
          'Book wrong by a factor of two',
          'burn of that material',
          'median error',
          x.slice(0, ofMaterial.length),
          [{ name: 'learnt', y: ofMaterial }],
          0.15,
        ),
      },
    ],
  };
}

interface ReplayedShop {
  readonly replayed: readonly ReplayedBurn[];
  readonly ofWrongMaterial: ReplayedBurn[];
  readonly isAlarmed: boolean;
}

function replayShop(seed: number, scenario: Scenario): ReplayedShop {
  const { burns, wrongMaterial } = simulateShop(seed, scenario);
  const { book, replayed } = replayBurns(burns as Burn[]);
  return {
    replayed,
    ofWrongMaterial: replayed.filter((r) => r.burn.material === wrongMaterial),
    isAlarmed: book.alarms.length > 0,
  };
}

/** Median error by the number of burns learnt before, as far as there are logs long enough. */
function errorByBurn(shops: readonly (readonly ReplayedBurn[])[]): number[] {
  const out: number[] = [];
  for (let i = 0; i < CURVE_BURNS; i++) {
    const errors = shops.flatMap((s) => (s[i] === undefined ? [] : [s[i]!.error]));
    if (errors.length < FEWEST_BURNS) break;
    out.push(median(errors));
  }
  return out;
}

/** First count of burns from which the learnt median error stays below half the book's, over a window of ten burns. */
function burnsToHalve(shops: readonly (readonly ReplayedBurn[])[]): string {
  const longest = Math.max(...shops.map((s) => s.length));
  const window = 10;
  for (let start = 0; start + window <= longest; start++) {
    const burns = shops.flatMap((s) => s.slice(start, start + window));
    if (median(burns.map((b) => b.error)) < median(burns.map((b) => b.bookError)) / 2) return String(start);
  }
  return 'not reached';
}
