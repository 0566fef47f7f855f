import { type Problem, problem, type Result } from '@gapwright/base';
import { chooseColumns, type Prepared } from '../table/choose-columns.js';
import type { Table } from '../table/read-table.js';
import { learnRegression, type Regression } from './learn-regression.js';
import { type Replicates, replicatesOf } from './replicates.js';

/** A response learnt from a table, with everything a reader needs to judge it. */
export interface TableRegression {
  readonly prepared: Prepared;
  readonly regression: Regression;
  readonly replicates: Replicates | null;
  /** The model in one sentence. */
  readonly model: string;
}

/** Fewer rows than this give a coverage that says little: its standard error at 80 % is above ten points. */
const FEW_ROWS = 15;

/** Learns one column of a table from others. `value` is null when the table or the column choice does not allow it. */
export function learnFromTable(
  table: Table,
  response: string,
  inputNames: readonly string[] | undefined,
  seed: number,
): Result<TableRegression> {
  const { value: prepared, problems: found } = chooseColumns(table, response, inputNames);
  if (prepared === null) return { value: null, problems: found };
  const problems: Problem[] = [...found];
  const note = (code: string, what: string): void => {
    problems.push(problem({ code, severity: 'warn', what }));
  };
  const { inputs, response: y } = prepared;
  if (y.every((v) => v === y[0])) {
    note('LEARN-CONSTANT-RESPONSE', `"${prepared.responseName}" is ${y[0]} in every row; there is nothing to learn`);
    return { value: constantResponse(prepared), problems };
  }
  const regression = learnRegression(inputs, y, seed);
  const replicates = replicatesOf(inputs, y);
  const n = y.length;
  if (!y.every((v) => v > 0)) {
    note(
      'LEARN-NOT-POSITIVE',
      `"${prepared.responseName}" has zero or negative values: model and log-linear baseline use its plain values, not logarithms`,
    );
  }
  if (inputs.numeric.some((c) => !c.every((v) => v > 0))) {
    const names = prepared.numericNames.filter((_, k) => !inputs.numeric[k]!.every((v) => v > 0));
    note(
      'LEARN-INPUT-NOT-POSITIVE',
      `Plain values, not logarithms, are used for ${names.join(', ')}: not all positive`,
    );
  }
  if (n < FEW_ROWS) note('LEARN-FEW-ROWS', `${n} rows: coverage and scores are rough`);
  if (inputs.numeric.length + 2 > n) {
    note('LEARN-BASELINE-SATURATED', 'Fewer rows than inputs: the log-linear baseline cannot be fitted properly');
  }
  if (regression.isMeanOnly) {
    note('LEARN-MEAN-ONLY', 'No input predicts the response better than chance would; the forecast is the mean');
  }
  if (regression.isRobust) {
    note(
      'LEARN-OUTLIERS',
      'Some rows lie far from what the others say; they count less and the intervals have long tails',
    );
  }
  if (replicates !== null && replicates.sd > 0) {
    const { sd, freedom, crpsFloor } = replicates;
    note(
      'LEARN-NOISE-FLOOR',
      `Repeated settings scatter by ${sd.toPrecision(3)} (standard deviation, ${freedom} degrees of freedom): about ${crpsFloor.toPrecision(3)} is the least CRPS any model can reach there`,
    );
  }
  const better = Math.min(regression.baselines.mean.crps, regression.baselines.logLinear.crps);
  if (regression.loo.crps > better) {
    note(
      'LEARN-BASELINE-BETTER',
      'A simple baseline scores better than the model on this file; do not trust the model more',
    );
  }
  return { value: { prepared, regression, replicates, model: sentence(regression, prepared) }, problems };
}

function sentence(r: Regression, prepared: Prepared): string {
  const scale = r.scale === 'log' ? `ln ${prepared.responseName}` : prepared.responseName;
  if (r.isMeanOnly) return `mean of ${scale}`;
  const shares = [...r.shares]
    .filter((s) => s.share >= 0.005)
    .sort((a, b) => b.share - a.share)
    .map((s) => `${s.name} ${(s.share * 100).toFixed(0)} %`);
  const noise = r.isRobust ? 'Student-t noise' : 'normal noise';
  return `Bayesian linear models of ${scale}, mixed by leave-one-out CRPS: ${shares.join(', ')}; ${noise}`;
}

function constantResponse(prepared: Prepared): TableRegression {
  const zero = { mae: 0, crps: 0 };
  const value = prepared.response[0]!;
  const point = { low: value, high: value };
  return {
    prepared,
    replicates: null,
    model: `constant ${value}`,
    regression: {
      loo: zero,
      baselines: { mean: zero, logLinear: zero },
      coverage: { '80': 1, '95': 1 },
      rows: [...prepared.response].map((observed) => ({
        ...{ observed, median: value, crps: 0, pit: 0.5, interval80: point, interval95: point },
      })),
      scale: 'identity',
      shares: [{ name: 'mean', share: 1 }],
      isRobust: false,
      isMeanOnly: true,
      parts: prepared.rows.length,
    },
  };
}
