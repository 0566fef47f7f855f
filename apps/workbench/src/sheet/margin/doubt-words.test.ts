import { describe, expect, it } from 'vitest';
import { doubtShares, doubtWords } from './doubt-words.js';

describe('doubt words', () => {
  it.each([
    ['rate-material:D2', 'removal rate in D2'],
    ['level-areaRateMm2PerMin:1', 'area rate at level 1'],
    ['shop:slugVisitMin', 'slug visit (shop book)'],
    ['shop:inspectionMinPerCharacteristic', 'inspection per characteristic (shop book)'],
    ['tube-wear:T1', 'tube wear: T1'],
  ])('%s', (cause, words) => expect(doubtWords(cause)).toBe(words));
});

describe('doubtShares', () => {
  it('shares out the variance, not the deviation', () => {
    expect(doubtShares({ a: 3, b: -4 })).toEqual([
      { cause: 'b', share: 16 / 25 },
      { cause: 'a', share: 9 / 25 },
    ]);
  });
  it('leaves out what nobody would act on', () => {
    expect(doubtShares({ a: 1, b: 0.05 }).map((d) => d.cause)).toEqual(['a']);
    expect(doubtShares(undefined)).toEqual([]);
  });
});
