import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { estimateDrilledHole } from '../drilling.js';
import { findDrillMachine, findMaterial } from '../find.js';
import { exactly } from '../testing/exactly.js';
import { startingBook } from '../testing/starting-book.js';
import { estimateSmallHole, type SmallHoleQuery } from './estimate-small-hole.js';
import { chooseTube, drillOvercut, USUAL_TUBES_MM } from './tubes.js';

const book = startingBook();
const base: SmallHoleQuery = {
  book,
  material: findMaterial(book, 'D2')!,
  machine: findDrillMachine(book, 'D1')!,
  diameterMm: 1.13,
  toleranceMm: 0.1,
  depthMm: 20,
  holes: 10,
  purpose: 'start',
};
const codes = (query: Partial<SmallHoleQuery>) => estimateSmallHole({ ...base, ...query }).problems.map((p) => p.code);

describe('small holes', () => {
  it('takes the time of a start hole and the breakthrough', () => {
    const { value } = estimateSmallHole({ ...base, end: 'blind' });
    const through = estimateSmallHole(base).value!;
    expect(through.burnMin.value).toBeGreaterThan(value!.burnMin.value);
    const start = estimateDrilledHole({ ...base, diameterMm: 1.2, depthMm: 20 }).value!;
    expect(value!.burnMin.value / start.burnMin.value).toBeCloseTo((1.126 / 1.2) ** 2, 1);
    expect(through.travelMm.value).toBeCloseTo(20 * 1.5 + 1.73 * through.holeMm.value, 9);
    expect(value!.travelMm.value).toBeCloseTo(30, 9);
  });

  it('falls with depth as the time law says', () => {
    const { feedMmPerMin, feedAtDepthMmPerMin, holeMm } = estimateSmallHole(base).value!;
    const halves = book.rules.drillHalfDepthRatio.value * holeMm.value;
    expect(feedAtDepthMmPerMin.value).toBeCloseTo(feedMmPerMin.value / (1 + 20 / halves), 9);
  });

  it('chooses the tube whose hole is nearest', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.15, max: 3.1, noNaN: true }), (holeMm) => {
        const { value } = chooseTube(holeMm, 1);
        const off = (tube: number) => Math.abs(tube + 2 * drillOvercut(exactly(tube, 'mm')).value!.value - holeMm);
        for (const tube of USUAL_TUBES_MM) expect(off(value!.tubeMm)).toBeLessThanOrEqual(off(tube) + 1e-12);
      }),
      { numRuns: 100 },
    );
  });

  it.each([
    ['PROCESS-DRILL-MATERIAL', { material: findMaterial(book, 'alumina')! }],
    ['SMALLHOLE-TOO-DEEP', { depthMm: 500 }],
    ['SMALLHOLE-NO-TUBE', { diameterMm: 6 }],
    ['SMALLHOLE-NO-TUBE', { tubesMm: [0.5, 2] }],
    ['PROCESS-ABOVE-CEILING', { meanPowerW: exactly(1, 'W') }],
  ] as const)('refuses with %s', (code, query) => {
    const { value, problems } = estimateSmallHole({ ...base, ...query });
    expect(value).toBeNull();
    expect(problems.filter((p) => p.severity === 'stop').map((p) => p.code)).toEqual([code]);
  });

  it('speaks of what can go wrong', () => {
    expect(codes({})).not.toContain('SMALLHOLE-RECAST');
    expect(codes({ purpose: 'finished' })).toContain('SMALLHOLE-RECAST');
    expect(codes({ entrySlopeDeg: 25 })).toContain('SMALLHOLE-STEEP-ENTRY');
    expect(codes({ entrySlopeDeg: 15 })).not.toContain('SMALLHOLE-STEEP-ENTRY');
    expect(codes({ end: 'blind' })).toContain('SMALLHOLE-BLIND-WEAR');
    expect(codes({ depthMm: 130 })).toContain('SMALLHOLE-DEEP');
    expect(codes({ toleranceMm: 0.01, diameterMm: 1.126 })).toContain('SMALLHOLE-SIZE-UNSURE');
    expect(codes({ meanPowerW: exactly(5, 'W') })).toContain('PROCESS-NEAR-CEILING');
  });

  it('needs more tubes for more wear, never fewer at the high end', () => {
    const steel = estimateSmallHole({ ...base, holes: 100 }).value!;
    const carbide = estimateSmallHole({ ...base, holes: 100, material: findMaterial(book, 'WC-10Co')! }).value!;
    expect(carbide.tubes.value).toBeGreaterThan(2 * steel.tubes.value);
    expect(steel.tubesAtMost).toBeGreaterThanOrEqual(steel.tubes.value);
  });
});

describe('the energy ceiling of small holes', () => {
  it('is never passed, whatever power is stated', () => {
    const log = (low: number, high: number) =>
      fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);
    const drillable = book.materials.filter((m) => m.isConductive && m.drillFeedMmPerMin !== null);
    let estimates = 0;
    fc.assert(
      fc.property(
        fc.constantFrom(...drillable),
        log(0.3, 3),
        log(1, 100),
        log(0.2, 2000),
        (material, diameterMm, depthMm, watts) => {
          const query = { ...base, material, diameterMm, depthMm, toleranceMm: 0.3, meanPowerW: exactly(watts, 'W') };
          const { value, problems } = estimateSmallHole(query);
          if (value === null) {
            expect(problems.some((p) => p.severity === 'stop')).toBe(true);
            return;
          }
          estimates += 1;
          const { densityGPerCm3, heatCapacityJPerGK, meltingC, latentHeatJPerG } = material;
          const melt =
            (densityGPerCm3.value / 1000) * (heatCapacityJPerGK.value * (meltingC.value - 20) + latentHeatJPerG.value);
          const removal = (value.feedMmPerMin.value * Math.PI * value.holeMm.value ** 2) / 4;
          expect(removal).toBeLessThanOrEqual(((60 * watts) / melt) * (1 + 1e-12));
        },
      ),
      { numRuns: 2000, seed: 21 },
    );
    expect(estimates).toBeGreaterThan(500);
  });
});
