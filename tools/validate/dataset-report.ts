import { kFold, learnFromTable, pitDistance, pitHistogram } from '@gapwright/process';
import { type Dataset, loadTable } from './datasets.js';
import { forecastPlot, pitPlot } from './plots.js';
import { number, percent, type Section, table } from './text.js';

const FOLDS = 5;
const SEED = 1;
/** Fewer rows than this say little about coverage. */
const ENOUGH_ROWS = 15;
/** A forecast whose CRPS lies this near the replicate noise cannot get better. */
const NEAR_FLOOR = 1.15;

/** Leave-one-out and k-fold scores of every response of one dataset, beside both baselines and the noise of repeats. */
export function datasetSection(root: string, dataset: Dataset): Section {
  const data = loadTable(root, dataset);
  const rows: string[][] = [];
  const notes: string[] = [];
  const plots: { name: string; svg: string }[] = [];
  for (const { column, unit } of dataset.responses) {
    const { value, problems } = learnFromTable(data, column, dataset.inputs, SEED);
    if (value === null) throw new Error(`${dataset.id} ${column}: ${problems[0]?.message}`);
    const { regression: r, replicates, prepared, model } = value;
    const folds = kFold(prepared.inputs, prepared.response, FOLDS, SEED);
    const n = r.rows.length;
    const best = Math.min(r.baselines.mean.crps, r.baselines.logLinear.crps);
    rows.push([
      `${column} (${unit})`,
      String(n),
      number(r.loo.mae),
      number(r.loo.crps),
      number(folds.score.crps),
      number(r.baselines.mean.crps),
      number(r.baselines.logLinear.crps),
      replicates === null ? '-' : number(replicates.crpsFloor),
      percent(r.coverage['80']),
      percent(r.coverage['95']),
      percent(folds.coverage['80']),
      percent(folds.coverage['95']),
    ]);
    notes.push(`${column}: ${verdict(r.loo.crps, best, replicates?.crpsFloor ?? null, n)} Model: ${model}.`);
    if (n < ENOUGH_ROWS) notes.push(`${column}: ${n} rows are too few to judge coverage.`);
    const pits = r.rows.map((row) => row.pit);
    const distance = pitDistance(pits);
    const limit = 1.36 / Math.sqrt(n);
    notes.push(`${column}: PIT distance from even ${distance.toFixed(3)}; doubtful at 5 % from ${limit.toFixed(3)}.`);
    const points = r.rows.map(({ observed, median, interval80 }) => ({ observed, median, ...interval80 }));
    plots.push(
      { name: `${dataset.id}-${column}`, svg: forecastPlot(`${column}, leave-one-out`, unit, points) },
      { name: `${dataset.id}-${column}-pit`, svg: pitPlot(`${column}, PIT`, pitHistogram(pits, n < 40 ? 5 : 10)) },
    );
  }
  const head = [
    ...['response', 'rows', 'MAE', 'CRPS', `CRPS ${FOLDS}-fold`, 'CRPS of mean', 'CRPS log-linear', 'noise floor'],
    ...['in 80 %', 'in 95 %', `in 80 %, ${FOLDS}-fold`, `in 95 %, ${FOLDS}-fold`],
  ];
  return { title: dataset.title, text: [table(head, rows), '', ...notes.map((n) => `- ${n}`)].join('\n'), plots };
}

function verdict(ours: number, best: number, floor: number | null, rows: number): string {
  const ratio = `CRPS ${(ours / best).toFixed(2)} of the better baseline`;
  if (ours < best) return `${ratio}.`;
  if (floor !== null && best <= floor * NEAR_FLOOR)
    return `${ratio}; the baseline is already at the noise of repeats, no model can beat it by much.`;
  if (rows < ENOUGH_ROWS) {
    return `${ratio}: **a baseline is better here**; ${rows} rows without repeats cannot tell a better law from it, so this is where the learning cannot win.`;
  }
  return `${ratio}: **a baseline is better here**.`;
}
