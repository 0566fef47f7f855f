import { expect, test } from 'vitest';
import { missingWords } from './burn-form.js';

const whole = {
  day: '2026-11-25',
  machine: 'W1',
  material: 'D2',
  wire: 'B25',
  heightMm: 30,
  level: 1,
  predictedMin: 10,
  actualMin: 12,
} as const;

test('a burn is kept only whole, and with a day there is', () => {
  expect(missingWords(whole)).toBeNull();
  expect(missingWords({ ...whole, level: null, actualMin: null })).toBe(
    'Still needed: the energy level, what it took.',
  );
  expect(missingWords({ ...whole, day: '2026-02-30' })).toContain('2026-02-30');
});
