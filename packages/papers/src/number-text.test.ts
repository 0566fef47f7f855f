import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fixed, percentChange, spreadPhrase, timePhrase, trimmed } from './number-text.js';
import { sure } from './spread.js';

describe('numbers in print', () => {
  it('groups thousands and keeps decimals', () => {
    expect(fixed(1234567.891, 2)).toBe('1,234,567.89');
    expect(fixed(999, 0)).toBe('999');
    expect(fixed(0.0004, 3)).toBe('0.000');
  });

  it('never prints a negative zero', () => {
    expect(fixed(-0.0004, 3)).toBe('0.000');
    expect(fixed(-0.0006, 3)).toBe('\u22120.001');
  });

  it('drops trailing zeros of sizes only behind the point', () => {
    expect(trimmed(0.25, 3)).toBe('0.25');
    expect(trimmed(25, 3)).toBe('25');
    expect(trimmed(1200, 0)).toBe('1,200');
  });

  it('prints intervals as planners write them', () => {
    expect(timePhrase({ value: 82.1, low: 66.2, high: 102.6 })).toBe('82 min (66–103)');
    expect(timePhrase({ value: 1434, low: 1146, high: 1812 })).toBe('23.9 h (19.1–30.2)');
    expect(timePhrase(sure(12))).toBe('12 min');
    expect(spreadPhrase(sure(0.218), 'mm', 3)).toBe('0.218 mm');
  });

  it('signs changes', () => {
    expect(percentChange(-0.124)).toBe('\u221212 %');
    expect(percentChange(0.04)).toBe('+4 %');
    expect(percentChange(0.001)).toBe('0 %');
  });

  it('reads back as the rounded number', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), fc.integer({ min: 0, max: 4 }), (x, decimals) => {
        const back = Number(fixed(x, decimals).replaceAll(',', '').replace('\u2212', '-'));
        expect(back === Number(x.toFixed(decimals)) || (back === 0 && Math.abs(x) < 1)).toBe(true);
      }),
      { numRuns: 200 },
    );
  });
});
