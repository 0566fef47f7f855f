import { type Problem, shortNumber } from '@gapwright/base';
import type { LearnDocument } from '@gapwright/job';
import { textTable, wrap } from '../text-table.js';
import { percent } from './numbers.js';
import { problemLines } from './problems.js';

/** What was learnt from a table: scores beside the baselines, coverage, model, problems. */
export function learnText(d: LearnDocument, problems: readonly Problem[]): string {
  const score = (name: string, s: { mae: number; crps: number }): string[] => [
    name,
    shortNumber(s.mae, 4),
    shortNumber(s.crps, 4),
  ];
  const names = [...d.inputs, ...d.groups.map((g) => `${g} (text)`)];
  return [
    wrap(`${d.response} from ${names.length === 0 ? 'nothing' : names.join(', ')}`, 100, '  '),
    `${d.rows.used} of ${d.rows.inFile} rows used; every row forecast from the others`,
    '',
    textTable(
      ['forecast', 'mean error', 'CRPS'],
      [score('learnt', d.loo), score('mean', d.baselines.mean), score('log-linear', d.baselines.logLinear)],
    ),
    '',
    `80 % interval held ${percent(d.coverage['80'], 1)} of the rows, 95 % interval ${percent(d.coverage['95'], 1)}.`,
    wrap(`Model: ${d.model}.`, 100, '  '),
    ...(problems.length === 0 ? [] : ['', problemLines(problems)]),
  ].join('\n');
}
