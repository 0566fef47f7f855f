import { describe, expect, it } from 'vitest';
import { costWords, signed } from './cost-words.js';

const now = { burnMin: 162, attendedMin: 60 };

describe('costWords', () => {
  it('says price, burn and hands against the computed choice', () => {
    const cost = { unitPriceChange: 14.2, burnMinChange: 62, attendedMinChange: -6.6, says: '' };
    expect(costWords(cost, 'EUR', now)).toBe('+14.20 EUR per piece, +62 % burn, −10 % time of a person');
  });

  it('leaves out what does not change', () => {
    const cost = { unitPriceChange: 0.001, burnMinChange: 0, attendedMinChange: 0, says: '' };
    expect(costWords(cost, 'EUR', now)).toBe('no difference in price or time');
  });

  it('says why there is no price', () => {
    const cost = { unitPriceChange: null, burnMinChange: null, attendedMinChange: null, says: 'It does not fit F2.' };
    expect(costWords(cost, 'EUR', now)).toBe('It does not fit F2.');
  });

  it('uses a true minus', () => {
    expect(signed(-2, (v) => `${v}`)).toBe('−2');
  });
});
