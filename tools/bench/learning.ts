import { seededRandom } from '@gapwright/base';
import {
  type Burn,
  BurnBook,
  BurnFilter,
  EFFECT_KINDS,
  levelsOfBurn,
  logRatio,
  STARTING_SPREADS,
} from '@gapwright/process';
import { Matrix, solve } from 'ml-matrix';
import { type BenchLine, medianMs } from './bench-line.js';

const BURNS = 5_000;

/** A log of a middling shop: 20 materials, 8 machines, 6 wires. */
function log(): Burn[] {
  const random = seededRandom(11);
  return Array.from({ length: BURNS }, (_, k): Burn => {
    const predictedMin = Math.exp(3 + random.normal());
    return {
      day: k / 4,
      predictedMin,
      actualMin: predictedMin * Math.exp(0.1 * random.normal()),
      material: `m${random.below(20)}`,
      machine: `W${random.below(8)}`,
      tool: `B${random.below(6)}`,
      heightMm: 5 + 200 * random.uniform(),
      level: `${1 + random.below(5)}`,
    };
  });
}

/** Rows of the same effects as zeros and ones, with the priors as further rows: ridge as plain least squares. */
function denseProblem(burns: readonly Burn[]): { x: Matrix; y: Matrix; names: { kind: string; name: string }[] } {
  const names: { kind: (typeof EFFECT_KINDS)[number]; name: string }[] = [];
  const at = new Map<string, number>();
  const rows = burns.map((burn) => {
    const levels = levelsOfBurn(burn);
    return EFFECT_KINDS.map((kind) => {
      const key = `${kind} ${levels[kind]}`;
      if (!at.has(key)) {
        at.set(key, names.length);
        names.push({ kind, name: levels[kind] });
      }
      return at.get(key)!;
    });
  });
  const x = Matrix.zeros(burns.length + names.length, names.length);
  const y = Matrix.zeros(burns.length + names.length, 1);
  rows.forEach((row, i) => {
    for (const j of row) x.set(i, j, 1 / STARTING_SPREADS.noise);
    y.set(i, 0, logRatio(burns[i]!) / STARTING_SPREADS.noise);
  });
  names.forEach(({ kind }, j) => {
    x.set(burns.length + j, j, 1 / STARTING_SPREADS.effects[kind]);
  });
  return { x, y, names };
}

/** One burn taken into 5,000, and all learnt anew, beside a dense least squares of a general matrix library. */
export async function run(quick: boolean): Promise<BenchLine[]> {
  const burns = log();
  const { x, y, names } = denseProblem(burns);
  const byLibrary = (): Matrix => solve(x, y);
  // Without wandering and outlier weights the filter is exactly this least squares.
  const plain = new BurnFilter({ ...STARTING_SPREADS, wander: 0 }, undefined, Number.POSITIVE_INFINITY);
  for (const burn of burns) plain.observe(burn);
  const theirs = byLibrary();
  let difference = 0;
  names.forEach(({ kind, name }, j) => {
    const ours = plain.effect(kind as (typeof EFFECT_KINDS)[number], name).mean;
    difference = Math.max(difference, Math.abs(ours - theirs.get(j, 0)));
  });
  if (difference > 1e-8) throw new Error(`effects differ by ${difference}`);
  const agreement = `largest difference of an effect ${difference.toExponential(1)} (log scale, same noise model)`;
  const theirMs = medianMs(() => byLibrary(), quick ? 3 : 9, 1);

  const book = new BurnBook();
  for (const burn of burns) book.add(burn);
  let k = 0;
  const oneMs = medianMs(() => book.add({ ...burns[k++ % BURNS]!, day: BURNS / 4 + k }), quick ? 200 : 1000, 50);
  const passMs = medianMs(
    () => {
      const filter = new BurnFilter(STARTING_SPREADS);
      for (const burn of burns) filter.observe(burn);
    },
    quick ? 3 : 9,
    1,
  );
  const refitMs = medianMs(() => book.refit(), quick ? 1 : 3, 0);
  const input = `${BURNS} burns, ${names.length} effects`;
  const line = (name: string, ours: number): BenchLine => ({
    ...{ name, ours, theirs: theirMs, ratio: theirMs / ours, unit: 'ms', input, agreement },
  });
  return [
    line('one burn into a book of 5,000, against a dense least squares of ml-matrix', oneMs),
    line('all burns under known spreads, against a dense least squares of ml-matrix', passMs),
    line('full refit with all spreads, against one dense least squares of ml-matrix', refitMs),
  ];
}
