import { expect, test } from 'vitest';
import { byMachine, coverageBand, movingCoverage, type SeenBurn } from './seen-burn.js';

function burn(machine: string, isIn80: boolean): SeenBurn {
  const content = {
    day: '2026-01-02',
    material: 'D2',
    machine,
    wire: 'B25',
    heightMm: 30,
    level: 1,
    predictedMin: 10,
    actualMin: 11,
    jobId: null,
    operation: null,
    note: '',
  };
  return { id: machine, content, forecastMin: 10, low80Min: 9, high80Min: 12, isIn80, isIn95: true };
}

test('moving coverage counts the last burns only', () => {
  const flags = [true, false, true, true, false];
  expect(
    movingCoverage(
      flags.map((f) => burn('W1', f)),
      2,
    ),
  ).toEqual([1, 0.5, 0.5, 1, 0.5]);
});

test('the band narrows with the square root of the burns', () => {
  // 1.96 * sqrt(0.16 / 64) = 0.098
  const [low, high] = coverageBand(64);
  expect(low).toBeCloseTo(0.702, 9);
  expect(high).toBeCloseTo(0.898, 9);
});

test('machines come in the order people count them', () => {
  expect(byMachine(['W10', 'W2', 'W1'].map((m) => burn(m, true))).map(([m]) => m)).toEqual(['W1', 'W2', 'W10']);
});
