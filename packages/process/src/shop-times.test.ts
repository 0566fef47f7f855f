import { given, STATED_FOR_JOB, Z_80 } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import { findWireMachine } from './find.js';
import { noCoreBurnTime, slugHandling, tabLength } from './slug.js';
import { exactly } from './testing/exactly.js';
import { startingBook } from './testing/starting-book.js';
import { setUpTime, slugVisitTime, threadingTime } from './times.js';

const book = startingBook();

describe('times of a shop', () => {
  it('threads, sets up and visits', () => {
    const w1 = findWireMachine(book, 'w1')!;
    expect(threadingTime(w1, 5).value).toBeCloseTo(5 * w1.threadMin.value, 12);
    expect(setUpTime(book.rates, 1).value).toBe(35);
    expect(setUpTime(book.rates, 4).value).toBe(35 + 3 * 15);
    expect(slugVisitTime(book.rates, 3).value).toBe(4 + 3 * 5);
  });

  it('does not let doubts cancel when a time is repeated', () => {
    const once = threadingTime(findWireMachine(book, 'W1')!, 1);
    const often = threadingTime(findWireMachine(book, 'W1')!, 20);
    expect(often.high / often.value).toBeCloseTo(once.high / once.value, 6);
    expect(Math.log(once.high / once.value)).toBeCloseTo(Z_80 * 0.25, 6);
  });
});

describe('slugs', () => {
  it('tabs by mass within the limits', () => {
    const mm = (massG: number): number => tabLength(exactly(massG, 'g'), book.rules).value;
    expect(mm(0)).toBe(1);
    expect(mm(1570)).toBeCloseTo(2.57, 12);
    expect(mm(1e6)).toBe(book.rules.tabMaxMm.value);
    const timid = { ...book.rules, tabBaseMm: given(0, 'mm', 'No base', STATED_FOR_JOB) };
    expect(tabLength(exactly(1, 'g'), timid).value).toBe(book.rules.tabMinMm.value);
  });

  it('is handled by mass', () => {
    const how = (massG: number) => slugHandling(exactly(massG, 'g'), book.rules);
    expect([1, 15, 16, 499, 500, 5000].map(how)).toEqual([
      'falls free',
      'falls free',
      'tab',
      'tab',
      'tab and support',
      'tab and support',
    ]);
  });

  it('burns a small slug whole', () => {
    expect(noCoreBurnTime(exactly(25, 'mm2'), exactly(0.31, 'mm'), exactly(5, 'mm/min')).value).toBeCloseTo(16.129, 3);
  });
});
