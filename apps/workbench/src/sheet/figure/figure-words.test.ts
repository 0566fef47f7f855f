import { describe, expect, it } from 'vitest';
import { intervalWords, valueWords } from './figure-words.js';

describe('figure words', () => {
  it('writes values with units people use', () => {
    expect(valueWords(0.1975, 'mm', 'mm')).toBe('0.1975 mm');
    expect(valueWords(0.1975, 'mm', 'inch')).toBe('0.00778 in');
    expect(valueWords(150.3514, 'mm', 'mm')).toBe('150.35 mm');
    expect(valueWords(0.7938, 'um', 'mm')).toBe('0.794 µm');
    expect(valueWords(150.7, 'min', 'mm')).toBe('2 h 31 min');
    expect(valueWords(0.0565, '1', 'mm', 'share')).toBe('5.7 %');
    expect(valueWords(176.805, 'EUR', 'mm')).toBe('176.81 EUR');
    expect(valueWords(132.4, 'mm2/min', 'mm')).toBe('132.4 mm²/min');
  });

  it('says a shared unit once, and nothing for exact figures', () => {
    expect(intervalWords({ low: 29.7, high: 49.2, unit: 'min' }, 'mm')).toBe('30 to 49 min');
    expect(intervalWords({ low: 108.2, high: 161.8, unit: 'EUR' }, 'mm')).toBe('108.20 to 161.80 EUR');
    expect(intervalWords({ low: 82, high: 190, unit: 'min' }, 'mm')).toBe('82 min to 3 h 10 min');
    expect(intervalWords({ low: 2, high: 2, unit: 'mm' }, 'mm')).toBeNull();
  });

  it('shows no interval that rounding has closed', () => {
    expect(intervalWords({ low: 0.12301, high: 0.12302, unit: 'mm' }, 'mm')).toBeNull();
  });
});
