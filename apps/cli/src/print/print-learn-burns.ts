import { type Problem, shortNumber } from '@gapwright/base';
import type { LearnBurnsDocument } from '@gapwright/job';
import { textTable } from '../text-table.js';
import { percent } from './numbers.js';
import { problemLines } from './problems.js';

/** Effects shown when none has moved. */
const SHOWN_UNMOVED = 3;

/** What a burn log taught: error and coverage before and after, effects that moved, alarms, changes of the book. */
export function learnBurnsText(d: LearnBurnsDocument, problems: readonly Problem[]): string {
  const quality = (name: string, q: LearnBurnsDocument['before']): string[] => [
    name,
    percent(q.medianError, 1),
    percent(q.coverage['80']),
    percent(q.coverage['95']),
  ];
  const moved = d.effects.filter((e) => e.hasMoved);
  const shown = moved.length > 0 ? moved : d.effects.slice(0, SHOWN_UNMOVED);
  const out = [
    `${d.burns} burns, ${d.from} to ${d.to}. Each was forecast from the burns before it.`,
    '',
    textTable(
      ['forecast', 'median error', 'in 80 %', 'in 95 %'],
      [quality('book alone', d.before), quality('learnt', d.after), quality('learnt, later half', d.afterLaterHalf)],
    ),
    '',
    moved.length > 0
      ? 'Effects that moved (times the book’s minutes, 80 % interval):'
      : 'No effect has moved. Largest:',
    textTable(
      ['kind', 'name', 'burns', 'factor', 'interval'],
      shown.map((e) => [
        e.kind,
        e.name,
        String(e.burns),
        shortNumber(e.factor, 3),
        `${shortNumber(e.low, 3)}-${shortNumber(e.high, 3)}`,
      ]),
      [0, 1],
    ),
    '',
    d.alarms.length === 0 ? 'No machine alarm.' : 'Machine alarms:',
    ...d.alarms.map((a) => {
      const size = percent(Math.abs(a.factor - 1));
      return `  ${a.date}  ${a.machine}: ${a.kind}, about ${size} ${a.factor > 1 ? 'slower' : 'faster'} than before`;
    }),
  ];
  if (d.book !== null) {
    out.push('', `${d.book.out}: book version ${d.book.toVersion}, made from version ${d.book.fromVersion}.`);
    out.push(
      textTable(
        ['field', 'was', 'is', 'burns'],
        d.book.changes.map((c) => [c.field, shortNumber(c.from, 4), shortNumber(c.to, 4), String(c.burns)]),
      ),
    );
  }
  if (problems.length > 0) out.push('', problemLines(problems));
  return out.join('\n');
}
