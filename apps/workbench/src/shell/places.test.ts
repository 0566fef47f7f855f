import { expect, test } from 'vitest';
import { jobIdOf, jobPath, placeOf } from './places.js';

test('addresses lead to their places', () => {
  expect(placeOf('/')).toBe('desk');
  expect(placeOf('/jobs')).toBe('sheet');
  expect(placeOf(jobPath('7'))).toBe('sheet');
  expect(placeOf('/book/wires')).toBe('book');
  expect(placeOf('/bookings')).toBeNull();
  expect(jobIdOf(jobPath('7'))).toBe('7');
  expect(jobIdOf('/floor')).toBeNull();
});
