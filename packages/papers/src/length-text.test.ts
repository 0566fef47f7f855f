import { expect, it } from 'vitest';
import { lengthText } from './length-text.js';
import { sure } from './spread.js';

it('prints mm as they are', () => {
  const mm = lengthText('mm');
  expect(mm.exact(-2)).toBe('\u22122.000');
  expect(mm.sizeWithUnit(0.25)).toBe('0.25 mm');
  expect(mm.ra(0.6)).toBe('0.6 µm');
  // As in the program: G10 L1 P1 R0.1855.
  expect(mm.offsetCells({ value: 0.1855, low: 0.17896, high: 0.1939 })).toEqual({
    value: '0.1855',
    range: '(0.1790–0.1939)',
  });
  expect(mm.feedCells(sure(2.154)).value).toBe('2.15');
});

it('turns everything that hangs on length into inches', () => {
  const inch = lengthText('inch');
  expect(inch.exact(25.4)).toBe('1.0000');
  expect(inch.sizeWithUnit(6.35)).toBe('0.25 in');
  expect(inch.ra(0.8)).toBe('31 µin');
  expect(inch.feedCells({ value: 25.4, low: 12.7, high: 50.8 })).toEqual({ value: '1.000', range: '(0.500–2.000)' });
});
