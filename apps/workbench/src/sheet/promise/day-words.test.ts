import { expect, test } from 'vitest';
import { daysBetween, dayWords } from './day-words.js';

test('days are named and counted over the end of a year and a leap day', () => {
  // Whether a comma follows the weekday is up to the locale data of the browser.
  expect(dayWords('2026-12-04')).toMatch(/^Friday,? 4 December 2026$/);
  expect(daysBetween('2026-12-30', '2027-01-02')).toBe(3);
  expect(daysBetween('2028-02-28', '2028-03-01')).toBe(2);
  expect(daysBetween('2026-12-04', '2026-12-01')).toBe(-3);
});
