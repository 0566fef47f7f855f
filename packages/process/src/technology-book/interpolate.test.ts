import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { IN825_MAPPING, readCells, TEST_SOURCE, TI13_MAPPING } from '../testing/published-tables.js';
import { importTechnologyPoints } from './import-points.js';
import { interpolateTechnology, type TechnologyQuery } from './interpolate.js';
import type { TechnologyPoint } from './technology-point.js';

const ti = importTechnologyPoints(readCells('sinker-ti13zr13nb-graphite.csv'), TI13_MAPPING).value!;
const inconel = importTechnologyPoints(readCells('in825-box-behnken.csv'), IN825_MAPPING).value!;

const queryOf = (p: TechnologyPoint, result: TechnologyQuery['result']): TechnologyQuery => ({
  process: p.process,
  material: p.material,
  tool: p.tool,
  conditions: p.conditions,
  result,
});
const spread = (f: { high: number; low: number } | null): number => Math.log(f!.high / f!.low);

/** Points of an exact power law, with the given scatter. */
function powerLaw(exponent: number, scatter: readonly number[]): TechnologyPoint[] {
  return [1, 2, 4, 8, 16].flatMap((currentA, i) =>
    [10, 20, 40].map((onTimeUs, j) => ({
      id: `p${i}${j}`,
      process: 'sinking' as const,
      material: 'D2',
      tool: 'copper',
      conditions: { currentA, onTimeUs, offTimeUs: 20 },
      results: {
        removalMm3PerMin:
          0.8 * currentA ** exponent * onTimeUs ** 0.3 * Math.exp(scatter[(3 * i + j) % scatter.length]!),
      },
      source: TEST_SOURCE,
    })),
  );
}
const base: TechnologyQuery = {
  process: 'sinking',
  material: 'd2',
  tool: 'Copper',
  conditions: { currentA: 5, onTimeUs: 25, offTimeUs: 20 },
  result: 'removalMm3PerMin',
};

describe('interpolation between technology points', () => {
  it('finds a power law', () => {
    const { value, problems } = interpolateTechnology(powerLaw(1.1, [0]), base);
    expect(problems).toEqual([]);
    const truth = 0.8 * 5 ** 1.1 * 25 ** 0.3;
    // Within the 3 % that bends of the prior may cost on exact data.
    expect(Math.abs(value!.value / truth - 1)).toBeLessThan(0.03);
    expect(value!.low).toBeLessThan(truth);
    expect(value!.high).toBeGreaterThan(truth);
  });

  it('widens steadily away from the points and refuses beyond twice their range', () => {
    const points = powerLaw(1.1, [0.05, -0.08, 0.02, 0.04, -0.03]);
    let before = 0;
    for (const currentA of [4, 16, 20, 25, 31]) {
      const { value, problems } = interpolateTechnology(points, {
        ...base,
        conditions: { ...base.conditions, currentA },
      });
      expect(spread(value)).toBeGreaterThan(before);
      before = spread(value);
      expect(problems.map((p) => p.code)).toEqual(currentA > 16 ? ['TECH-OUTSIDE-POINTS'] : []);
    }
    for (const currentA of [32.5, 0.4]) {
      const far = interpolateTechnology(points, { ...base, conditions: { ...base.conditions, currentA } });
      expect(far.value).toBeNull();
      expect(far.problems.map((p) => p.code)).toEqual(['TECH-FAR-OUTSIDE']);
    }
  });

  it('widens where the points never varied a condition', () => {
    const points = powerLaw(1, [0.03, -0.02, 0.01]);
    const same = interpolateTechnology(points, base).value;
    const other = interpolateTechnology(points, { ...base, conditions: { ...base.conditions, offTimeUs: 30 } });
    expect(other.problems.map((p) => p.code)).toEqual(['TECH-OUTSIDE-POINTS']);
    expect(spread(other.value)).toBeGreaterThan(spread(same) + 0.3);
  });

  it('asks for what it needs', () => {
    const points = powerLaw(1, [0]);
    const codes = (query: Partial<TechnologyQuery>) =>
      interpolateTechnology(points, { ...base, ...query }).problems.map((p) => p.code);
    expect(codes({ material: 'H13' })).toEqual(['TECH-NO-POINTS']);
    expect(codes({ result: 'raUm' })).toEqual(['TECH-NO-POINTS']);
    expect(codes({ conditions: { onTimeUs: 20 } })).toEqual(['TECH-CONDITION-MISSING']);
    expect(codes({ conditions: { ...base.conditions, gapVoltageV: 25 } })).toEqual(['TECH-CONDITION-UNKNOWN']);
    expect(codes({ meltEnergyJPerMm3: 1e5 })).toEqual(['TECH-ABOVE-CEILING']);
    expect(() => interpolateTechnology(points, { ...base, result: 'currentA' })).toThrow('is set, not measured');
    expect(() => interpolateTechnology(points, { ...base, conditions: { currentA: -1, onTimeUs: 20 } })).toThrow(
      'must be positive',
    );
  });

  it('is wide on one or two points and says so', () => {
    const one = interpolateTechnology(powerLaw(1, [0]).slice(0, 1), {
      ...base,
      conditions: { currentA: 1, onTimeUs: 10, offTimeUs: 20 },
    });
    expect(one.problems.map((p) => p.code)).toEqual(['TECH-FEW-POINTS']);
    expect(spread(one.value)).toBeGreaterThan(0.25);
  });

  it('does not depend on the order of the points', () => {
    const points = powerLaw(1, [0.1, -0.1, 0.05]);
    fc.assert(
      fc.property(fc.shuffledSubarray(points, { minLength: points.length }), (shuffled) => {
        const a = interpolateTechnology(points, base).value!;
        const b = interpolateTechnology(shuffled, base).value!;
        expect(b.value).toBe(a.value);
        expect(b.high).toBe(a.high);
      }),
      { numRuns: 10 },
    );
  });

  it.each([
    ['Ti-13Zr-13Nb Ra', ti, 'raUm'],
    ['Ti-13Zr-13Nb removal', ti, 'removalMm3PerMin'],
    ['Inconel 825 Ra', inconel, 'raUm'],
    ['Inconel 825 removal', inconel, 'removalMm3PerMin'],
  ] as const)(
    'leaves out each burn of %s in turn: the 80 %% interval holds about four of five, and beats the mean',
    (_, points, result) => {
      let inside = 0;
      let ours = 0;
      let byMean = 0;
      let widest = 0;
      for (const left of points) {
        const others = points.filter((p) => p !== left);
        const { value } = interpolateTechnology(others, queryOf(left, result));
        const truth = left.results[result]!;
        if (truth >= value!.low && truth <= value!.high) inside += 1;
        ours += Math.abs(Math.log(value!.value / truth));
        const mean = others.reduce((sum, p) => sum + Math.log(p.results[result]!), 0) / others.length;
        byMean += Math.abs(mean - Math.log(truth));
        widest = Math.max(widest, spread(value));
      }
      const coverage = inside / points.length;
      expect(coverage).toBeGreaterThanOrEqual(0.66);
      expect(coverage).toBeLessThanOrEqual(1);
      expect(ours).toBeLessThan(byMean);
      // Not held by being useless: at most a factor of 6 from low to high.
      expect(widest).toBeLessThan(Math.log(6));
    },
  );
});
