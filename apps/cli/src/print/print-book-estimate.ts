import { shortNumber } from '@gapwright/base';
import type { BookEstimateDocument } from '@gapwright/job';
import {
  TECHNOLOGY_QUANTITIES,
  TECHNOLOGY_QUANTITY_NAMES,
  type TechnologyQuantity,
  withUnit,
} from '@gapwright/process';
import { wrap } from '../text-table.js';
import { spread } from './numbers.js';
import { problemLines } from './problems.js';

/** The estimate with its interval, the nearest points with their sources, and what was noticed. */
export function bookEstimateText(d: BookEstimateDocument): string {
  const out: string[] = [];
  if (d.estimate !== null && d.response !== null) {
    const response = d.response as TechnologyQuantity;
    out.push(
      wrap(
        `${capital(TECHNOLOGY_QUANTITIES[response].says)} ${withUnit(spread(d.estimate), response)}, 80 % interval for the next burn`,
        100,
        '  ',
      ),
      wrap(`  ${d.process} of ${d.material} with ${d.tool} at ${valuesText(d.conditions)}`, 100, '  '),
      wrap(`  ${d.estimate.reasons[0]}`, 100, '  '),
    );
  }
  if (d.problems.length > 0) out.push(...(out.length > 0 ? [''] : []), problemLines(d.problems));
  if (d.nearest.length > 0) {
    out.push('', 'Nearest burns:');
    for (const p of d.nearest) {
      const response = d.response as TechnologyQuantity;
      const result = withUnit(shortNumber(p.results[response]!), response);
      const words = `${p.id}: ${result} at ${valuesText(p.conditions)} [${p.source.standing}: ${p.source.title}]`;
      out.push(wrap(`  ${words}`, 100, '    '));
    }
  }
  if (d.estimate !== null && d.meltEnergy === null) {
    out.push('', wrap(`The shop book does not know ${d.material}: a rate is not held against the energy ceiling.`));
  }
  return out.join('\n');
}

function valuesText(values: BookEstimateDocument['conditions']): string {
  return TECHNOLOGY_QUANTITY_NAMES.flatMap((name) => {
    const value = values[name];
    const { says } = TECHNOLOGY_QUANTITIES[name];
    return value === undefined ? [] : [`${says} ${withUnit(shortNumber(value), name)}`];
  }).join(', ');
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
