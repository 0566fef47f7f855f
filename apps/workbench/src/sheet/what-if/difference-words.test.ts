import { describe, expect, it } from 'vitest';
import { differenceWords, resultWords } from './difference-words.js';
import type { ResultKind } from './results.js';

const row = (kind: ResultKind, value: number | string | null) => ({ id: 'x', label: 'x', kind, value });

describe('differences of a tried change', () => {
  it.each([
    ['money', 176.8, 145.04, '−31.76 EUR (−18 %)'],
    ['money', 176.801, 176.803, 'same'],
    ['share', 0.05, 0.078, '+2.8 points'],
    ['minutes', 301, 200, '−1 h 41 min (−34 %)'],
    ['count', 5, 3, '−2'],
    ['metres', 0, 12, '+12 m'],
    ['text', 'B25', 'B20', 'B25 to B20'],
    ['text', 'B25', 'B25', 'same'],
    ['money', null, 3, ''],
  ] as const)('%s %s to %s', (kind, now, tried, words) => {
    expect(differenceWords(row(kind, now), row(kind, tried), 'EUR')).toBe(words);
  });

  it('says passes of several operations one after the other', () => {
    expect(differenceWords(row('count', 5), row('text', '5 + 4'), 'EUR')).toBe('5 to 5 + 4');
  });

  it('says a result that is not known', () => {
    expect(resultWords(row('money', null), 'EUR')).toBe('–');
    expect(resultWords(row('share', 0.056), 'EUR')).toBe('5.6 %');
  });
});
