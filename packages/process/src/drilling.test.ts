import { describe, expect, it } from 'vitest';
import { estimateDrilledHole } from './drilling.js';
import { findDrillMachine, findMaterial } from './find.js';
import { startingBook } from './testing/starting-book.js';

const book = startingBook();

function drill(diameterMm: number, depthMm: number, materialId = 'D2', machineId = 'D1') {
  return estimateDrilledHole({
    book,
    material: findMaterial(book, materialId)!,
    machine: findDrillMachine(book, machineId)!,
    diameterMm,
    depthMm,
  });
}

describe('drilling a start hole', () => {
  it('agrees with adding up the falling feed slice by slice', () => {
    const f0 = 25;
    const z0 = 75 * 1;
    const slices = 10_000;
    let min = 0;
    for (let k = 0; k < slices; k++) min += (60 / slices) * ((1 + ((k + 0.5) * 60) / slices / z0) / f0);
    expect(drill(1, 60).value!.burnMin.value).toBeCloseTo(min, 8);
  });

  it('takes longer when deeper, wider or harder, and never shorter than at full feed', () => {
    const min = (...args: Parameters<typeof drill>): number => drill(...args).value!.burnMin.value;
    expect(min(1, 40)).toBeGreaterThan(2 * min(1, 20));
    expect(min(2, 40)).toBeGreaterThan(min(1, 40));
    expect(min(1, 40, 'WC-10Co')).toBeGreaterThan(3 * min(1, 40));
    expect(min(1, 20)).toBeGreaterThan(20 / 25);
  });

  it('uses up tube by wear: 100 holes 20 deep at wear 0.5 use 1000 mm and the dressing', () => {
    const { tubeMm, tubeDiameterMm } = drill(1, 20).value!;
    expect(100 * tubeMm.value).toBeCloseTo(1000 + 100 * book.rules.drillDressMm.value, 9);
    expect(tubeDiameterMm.value).toBeCloseTo(0.88, 12);
  });

  it.each([
    ['PROCESS-DRILL-MATERIAL', [1, 20, 'alumina', 'D1']],
    ['PROCESS-DRILL-SIZE', [0.9, 20, 'D2', 'D1']],
    ['PROCESS-DRILL-TOO-DEEP', [0.5, 60, 'D2', 'D1']],
    ['PROCESS-DRILL-TOO-DEEP', [3, 250, 'D2', 'D1']],
    ['PROCESS-DRILL-TOO-DEEP', [1, 0, 'D2', 'D1']],
    ['PROCESS-DRILL-TOO-DEEP', [1, Number.NaN, 'D2', 'D1']],
  ] as const)('refuses with %s', (code, [diameter, depth, material, machine]) => {
    const { value, problems } = drill(diameter, depth, material, machine);
    expect(value).toBeNull();
    expect(problems.map((p) => p.code)).toEqual([code]);
  });

  it('refuses a feed that no spark could burn', () => {
    const material = findMaterial(book, 'D2')!;
    const drillFeedMmPerMin = { ...material.drillFeedMmPerMin!, value: 1e5 };
    const machine = findDrillMachine(book, 'D1')!;
    const query = { book, material: { ...material, drillFeedMmPerMin }, machine, diameterMm: 1, depthMm: 20 };
    const { value, problems } = estimateDrilledHole(query);
    expect(value).toBeNull();
    expect(problems.map((p) => p.code)).toEqual(['PROCESS-ABOVE-CEILING']);
  });
});
