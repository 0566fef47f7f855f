import { type Problem, problem, type Result } from '@gapwright/base';
import { type PriceDriver, priceDriverId } from '@gapwright/costing';
import type { PriceStudy } from '@gapwright/job';
import { savings, worthAsking } from './paper-data/savings.js';

/** The changes a letter asks for by their ids (`priceDriverId`), in order of saving; no ids: all that save something. */
export function chosenSavings(study: PriceStudy, asks: readonly string[]): Result<readonly PriceDriver[]> {
  const worth = savings(study);
  if (worth.length === 0) return { value: null, problems: [nothingToAsk()] };
  const ids = worth.map(priceDriverId);
  const unknown = asks.filter((id) => !ids.includes(id));
  if (unknown.length > 0) return { value: null, problems: unknown.map((id) => notAmong(id, ids)) };
  const value = asks.length === 0 ? worthAsking(study) : worth.filter((d) => asks.includes(priceDriverId(d)));
  return { value, problems: [] };
}

function nothingToAsk(): Problem {
  return problem({
    code: 'HAND-OVER-NOTHING-TO-ASK',
    severity: 'stop',
    what: 'No change of the requirements saves 2 % or more, so there is nothing to ask the customer for',
    fix: 'Send the quotation as it is',
  });
}

function notAmong(id: string, ids: readonly string[]): Problem {
  return problem({
    code: 'HAND-OVER-NO-SUCH-CHANGE',
    severity: 'stop',
    what: `${JSON.stringify(id.slice(0, 60))} is not among the changes that save 2 % or more`,
    fix: `Choose from ${ids.join(', ')}`,
    at: { field: 'asks' },
  });
}
