import { describe, expect, it } from 'vitest';
import { readDay } from './day-entry.js';

describe('readDay', () => {
  it.each([
    ['2026-12-04', '2026-12-04'],
    ['2026-2-9', '2026-02-09'],
    ['4.12.2026', '2026-12-04'],
    ['  ', ''],
  ])('%s', (text, day) => expect(readDay(text)).toEqual({ value: day }));

  it.each(['04/12/2026', '2026-02-30', 'soon', '2026-13-01'])('refuses %s', (text) => {
    expect(readDay(text)).toHaveProperty('fault');
  });
});
