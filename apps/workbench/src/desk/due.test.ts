import { expect, test } from 'vitest';
import { dayOf, dayWords, dueWords } from './due.js';

const TODAY = '2026-11-25';

test.each([
  ['2026-11-25', 'today', false],
  ['2026-11-26', 'tomorrow', false],
  ['2026-11-28', 'Saturday, in 3 days', false],
  ['2026-12-01', 'Tuesday, in 6 days', false],
  ['2026-12-02', '2 Dec, in 7 days', false],
  ['2027-01-04', '4 Jan 2027, in 40 days', false],
  ['2026-11-24', '1 day late', true],
  ['2026-11-15', '10 days late', true],
])('%s is %s', (day, text, isLate) => {
  expect(dueWords(day, TODAY)).toEqual({ text, isLate });
});

test('days are counted over a change to summer time', () => {
  expect(dueWords('2027-03-29', '2027-03-26').text).toBe('Monday, in 3 days');
});

test('the year is said only when it is another one', () => {
  expect(dayWords('2026-12-02', TODAY)).toBe('2 Dec');
  expect(dayWords('2025-12-02', TODAY)).toBe('2 Dec 2025');
});

test('the day is the one on the wall of this device', () => {
  expect(dayOf(new Date(2026, 0, 5, 23, 59))).toBe('2026-01-05');
});
