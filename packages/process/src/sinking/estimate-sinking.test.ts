import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findMaterial } from '../find.js';
import { exactly } from '../testing/exactly.js';
import { startingBook } from '../testing/starting-book.js';
import { electrodeLength, electrodesNeeded } from './electrode-count.js';
import { erosionResistance } from './erosion-resistance.js';
import { estimateSinking, type SinkingQuery, type SinkingSetting } from './estimate-sinking.js';
import { checkStages, type SinkingStage } from './undersize.js';

const book = startingBook();
const material = (id: string) => findMaterial(book, id)!;
const setting: SinkingSetting = {
  gapVoltageV: 25,
  openVoltageV: 100,
  currentA: 20,
  onTimeUs: 150,
  offTimeUs: 50,
  toolPolarity: 'positive',
};
const base: SinkingQuery = {
  material: material('D2'),
  electrode: 'graphite',
  setting,
  frontalAreaMm2: 900,
  depthMm: 12,
};
const estimate = (query: Partial<SinkingQuery>) => estimateSinking({ ...base, ...query });
const codes = (query: Partial<SinkingQuery>) => estimate(query).problems.map((p) => p.code);
const mm = (value: number) => exactly(value, 'mm');

describe('one sinking setting', () => {
  it('gives rates of the trade and times that follow', () => {
    const { value, problems } = estimate({ frontalAreaMm2: 2500 });
    expect(problems).toEqual([]);
    const e = value!;
    expect(e.pulseEnergyMj.value).toBeCloseTo(75, 9);
    expect(e.meanCurrentA.value).toBeCloseTo(15, 9);
    const perAmpere = e.removalMm3PerMin.value / e.meanCurrentA.value;
    expect(perAmpere).toBeGreaterThan(4);
    expect(perAmpere).toBeLessThan(10);
    expect(e.burnMin.value).toBeCloseTo((2500 * 12) / e.removalMm3PerMin.value, 6);
    expect(e.elapsedMin.value).toBeCloseTo(e.burnMin.value / (1 - e.jumpShare.value), 6);
    expect(e.frontGapMm.value).toBeLessThan(e.sideGapMm.value);
    expect(e.cornerWearMm.value).toBeGreaterThan(2 * e.endWearMm.value);
  });

  it('needs a positive tool and long pulses for low wear', () => {
    const wear = (toolPolarity: 'positive' | 'negative', onTimeUs: number): number =>
      estimate({ setting: { ...setting, toolPolarity, onTimeUs } }).value!.wearRatio.value;
    expect(wear('positive', 150)).toBeCloseTo(Math.sqrt(0.003 * 0.01), 9);
    expect(wear('negative', 150)).toBeCloseTo(Math.sqrt(0.05 * 0.25), 9);
    expect(wear('positive', 5)).toBeCloseTo(wear('negative', 5), 12);
    expect(wear('positive', 30)).toBeGreaterThan(wear('positive', 60));
  });

  it.each([
    ['PROCESS-NOT-CONDUCTIVE', { material: material('alumina') }],
    ['SINKING-NO-FIGURES', { material: material('W') }],
    ['PROCESS-FAR-OUTSIDE', { setting: { ...setting, currentA: 400, onTimeUs: 2000 } }],
    ['PROCESS-FAR-OUTSIDE', { setting: { ...setting, openVoltageV: 20 } }],
  ] as const)('refuses with %s', (code, query) => {
    expect(estimate(query).value).toBeNull();
    expect(codes(query)).toContain(code);
  });

  it('warns of arcing pairs, current density and small areas', () => {
    expect(codes({ frontalAreaMm2: 100 })).toContain('SINKING-CURRENT-DENSITY');
    expect(codes({ frontalAreaMm2: 2500 })).toEqual([]);
    expect(codes({ material: material('WC-10Co'), frontalAreaMm2: 5000 })).toContain('SINKING-AVOID-PAIR');
    expect(codes({ frontalAreaMm2: 5, setting: { ...setting, currentA: 0.3 } })).toContain('SINKING-AREA-SMALL');
    expect(codes({ setting: { ...setting, openVoltageV: 350 } })).toContain('PROCESS-OUTSIDE-RANGE');
  });

  it('throws on numbers that no input check may let through', () => {
    expect(() => estimate({ depthMm: 0 })).toThrow('Depth must be a positive number');
    expect(() => estimate({ setting: { ...setting, currentA: Number.NaN } })).toThrow('Pulse current');
  });

  it('ranks erosion resistance as the trade does', () => {
    const index = (id: string): number => erosionResistance(material(id)).value;
    expect(index('W')).toBeGreaterThan(index('Cu'));
    expect(index('Cu')).toBeGreaterThan(index('steel'));
    expect(index('steel')).toBeGreaterThan(index('Ti-6Al-4V'));
  });
});

describe('stages', () => {
  const stage = (parts: Partial<SinkingStage>): SinkingStage => ({
    name: 'one',
    electrode: 1,
    undersizeMm: 0.3,
    gapMm: 0.1,
    orbitMm: 0.15,
    stockMm: 0.05,
    ...parts,
  });
  const found = (...stages: SinkingStage[]) => checkStages(stages).map((p) => p.code);

  it('refuses what burns past nominal or runs backwards', () => {
    expect(found(stage({ gapMm: 0.31 }))).toContain('SINKING-GAP-OVER-UNDERSIZE');
    expect(found(stage({ orbitMm: 0.2 }))).toContain('SINKING-PAST-NOMINAL');
    expect(found(stage({}), stage({ name: 'two', stockMm: 0.06, orbitMm: 0.14 }))).toContain('SINKING-STOCK-GROWS');
    expect(found(stage({}), stage({ name: 'two', orbitMm: 0.1 }))).toContain('SINKING-ORBIT-SHRINKS');
    expect(found(stage({}), stage({ name: 'two', electrode: 2, orbitMm: 0.1 }))).not.toContain('SINKING-ORBIT-SHRINKS');
    expect(found(stage({}))).toEqual(['SINKING-NOT-TO-SIZE']);
  });

  it('accepts exactly the stages whose cavity never exceeds nominal less stock', () => {
    const um = fc.integer({ min: 0, max: 400 });
    fc.assert(
      fc.property(um, um, um, um, (u, gap, orbit, stock) => {
        const one = stage({ undersizeMm: u / 1000, gapMm: gap / 1000, orbitMm: orbit / 1000, stockMm: stock / 1000 });
        const stops = checkStages([one]).filter((p) => p.severity === 'stop');
        // Size after the stage against nominal less stock, in whole micrometres.
        expect(stops.length > 0).toBe(-2 * u + 2 * (gap + orbit) > -2 * stock || gap > u);
      }),
      { numRuns: 500 },
    );
  });
});

describe('electrodes', () => {
  it('takes the smallest count, and refuses what wear never reaches', () => {
    const wear = exactly(0.1, '1');
    expect(electrodesNeeded(mm(20), [wear], 0.05).value!.count).toBe(3);
    expect(electrodesNeeded(mm(20), [exactly(0.01, '1'), wear], 0.02).value!.count).toBe(2);
    const never = electrodesNeeded(mm(20), [exactly(1, '1')], 0.02);
    expect(never.value).toBeNull();
    expect(never.problems.map((p) => p.code)).toEqual(['SINKING-TOO-MANY-ELECTRODES']);
  });

  it('speaks when the high end of the wear would need one more', () => {
    const { wearRatio } = estimate({}).value!;
    const tolerance = 12 * wearRatio.value * 1.01;
    const { value, problems } = electrodesNeeded(mm(12), [wearRatio], tolerance);
    expect(value!.count).toBe(1);
    expect(problems.map((p) => p.code)).toEqual(['SINKING-ELECTRODE-MARGIN']);
  });

  it('adds up the length of an electrode that is cut back', () => {
    const length = electrodeLength({
      depthMm: mm(20),
      cutsBack: exactly(2, '1'),
      edgeWearMm: mm(0.6),
      soundMm: mm(0.2),
      heldMm: mm(15),
    });
    expect(length.value).toBeCloseTo(20 + 2 * 0.8 + 15, 9);
  });
});
