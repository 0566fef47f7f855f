import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { asDecimal, fromCounts, type NumberFormat, toCounts, writeCounts } from './number-format.js';

const base: NumberFormat = {
  decimals: 3,
  leadingZero: true,
  trailingZeros: false,
  plusSign: false,
  decimalPoint: 'always',
};

describe('number formats', () => {
  it.each<[number, Partial<NumberFormat>, string]>([
    [1500, {}, '1.5'],
    [1000, {}, '1.'],
    [1000, { decimalPoint: 'when needed' }, '1'],
    [0, {}, '0.'],
    [0, { leadingZero: false }, '0.'],
    [-5, {}, '-0.005'],
    [-5, { leadingZero: false }, '-.005'],
    [5, { plusSign: true }, '+0.005'],
    [1500, { trailingZeros: true }, '1.500'],
    [0, { trailingZeros: true, leadingZero: false }, '.000'],
    [12, { decimals: 0 }, '12.'],
    [12, { decimals: 0, decimalPoint: 'when needed' }, '12'],
    [123456789012, {}, '123456789.012'],
  ])('writes %d counts with %j as %s', (counts, change, text) => {
    expect(writeCounts(counts, { ...base, ...change })).toBe(text);
  });

  it('writes what reads back as the same double, in every format', () => {
    const format = fc.record({
      decimals: fc.integer({ min: 0, max: 8 }),
      leadingZero: fc.boolean(),
      trailingZeros: fc.boolean(),
      plusSign: fc.boolean(),
      decimalPoint: fc.constantFrom('always' as const, 'when needed' as const),
    });
    fc.assert(
      fc.property(format, fc.integer({ min: -1e12, max: 1e12 }), (f, counts) => {
        expect(Number(writeCounts(counts, f))).toBe(fromCounts(counts, f) + 0);
        expect(toCounts(fromCounts(counts, f), f)).toBe(counts);
      }),
      { numRuns: 2000 },
    );
  });

  it('sums decimals without binary noise', () => {
    expect(asDecimal(0.1 + 0.2)).toBe(0.3);
  });
});
