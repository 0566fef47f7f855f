import { outsideCheck } from '@gapwright/base/testing';
import { linearRegression } from 'simple-statistics';
import { describe, it } from 'vitest';
import { TEST_SOURCE } from '../testing/published-tables.js';
import { interpolateTechnology } from './interpolate.js';

describe('interpolation against a straight line by an independent library', () => {
  const scatter = [0.04, -0.06, 0.02, 0.05, -0.03, -0.05, 0.06, 0.01, -0.02, -0.04, 0.03, 0];
  const currents = scatter.map((_, k) => 2 * 1.2 ** k);
  const logs = currents.map((amp, k): [number, number] => [Math.log(amp), 0.5 + 0.9 * Math.log(amp) + scatter[k]!]);
  const points = logs.map(([x, y], k) => ({
    id: `p${String(k).padStart(2, '0')}`,
    process: 'sinking' as const,
    material: 'D2',
    tool: 'copper',
    conditions: { currentA: Math.exp(x) },
    results: { removalMm3PerMin: Math.exp(y) },
    source: TEST_SOURCE,
  }));
  const { m, b } = linearRegression(logs);

  it.each([3, 6, 12])('at %d A', (currentA) => {
    const query = { process: 'sinking', material: 'D2', tool: 'copper', result: 'removalMm3PerMin' } as const;
    const { value } = interpolateTechnology(points, { ...query, conditions: { currentA } });
    outsideCheck({
      id: `technology-line-${currentA}`,
      what: `Rate between 12 scattered points at ${currentA} A`,
      ours: value!.value,
      theirs: Math.exp(b + m * Math.log(currentA)),
      unit: 'mm3/min',
      allowed: 0.03 * value!.value,
      why: 'ours may bend towards the scatter of 4 %; theirs is straight',
      source: 'simple-statistics, linear regression on logs',
      standing: 'library',
    });
  });
});
