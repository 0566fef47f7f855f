import { apply, BY_DEFINITION, defineLaw, type Figure, given, STATED_FOR_JOB, sumOf } from '@gapwright/base';
import type { ShopRates, WireMachine } from './shop-book.js';

const TIMES = defineLaw({
  id: 'count-times-minutes',
  says: 'So many times, each taking so long.',
  formula: 'n t',
  source: BY_DEFINITION,
  inputs: { n: { unit: '1', says: 'how many' }, t: { unit: 'min', says: 'minutes each' } },
  output: 'min',
  evaluate: ({ n, t }) => n * t,
});

/** n times t, min. A bare count counts as planned. */
export function timesMin(count: Figure | number, eachMin: Figure, says = 'Planned count'): Figure {
  const n = typeof count === 'number' ? given(count, '1', says, STATED_FOR_JOB) : count;
  return apply(TIMES, { n, t: eachMin });
}

/** Threading the wire `count` times on this machine, min; attended when the machine does not thread by itself. */
export function threadingTime(machine: WireMachine, count: Figure | number): Figure {
  return timesMin(count, machine.threadMin, 'Threadings');
}

/** Attended set-up of one operation that runs `runs` times, all runs together, min. */
export function setUpTime(rates: ShopRates, runs: number): Figure {
  if (runs <= 1) return timesMin(1, rates.setUpMin, 'First set-up');
  return sumOf({
    'first set-up': timesMin(1, rates.setUpMin, 'First set-up'),
    'repeat set-ups': timesMin(runs - 1, rates.repeatSetUpMin, 'Further runs'),
  });
}

/** One walk to the machine that takes out `slugs` pieces, min. */
export function slugVisitTime(rates: ShopRates, slugs: number): Figure {
  return sumOf({ walk: rates.visitMin, slugs: timesMin(slugs, rates.slugVisitMin, 'Slugs taken out') });
}
