import { given, STATED_FOR_JOB, sumOf, Z_80 } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import { findMaterial, findWire, findWireMachine, levelsOf } from './find.js';
import type { ShopBook } from './shop-book.js';
import { startingBook } from './testing/starting-book.js';
import { passOffset } from './wire-geometry.js';
import { estimateWirePass, type WirePassEstimate } from './wire-pass.js';
import { burnTime } from './wire-use.js';

const book = startingBook();

function estimate(
  level: number,
  heightMm = 50,
  materialId = 'C1045',
  wireId = 'B25',
  machineId = 'W1',
  b: ShopBook = book,
) {
  return estimateWirePass({
    book: b,
    material: findMaterial(b, materialId)!,
    wire: findWire(b, wireId)!,
    machine: findWireMachine(b, machineId)!,
    level: b.wireLevels[level - 1]!,
    burnHeightMm: heightMm,
  });
}

function value(...args: Parameters<typeof estimate>): WirePassEstimate {
  const { value, problems } = estimate(...args);
  if (value === null) throw new Error(problems.map((p) => p.message).join(' '));
  return value;
}

/** Offsets of a ladder that ends at level n, in mm. */
function offsets(n: number, wireId = 'B25', machineId = 'W1'): number[] {
  const wire = findWire(book, wireId)!;
  const passes = Array.from({ length: n }, (_, k) => value(k + 1, 50, 'C1045', wireId, machineId));
  return passes.map(
    (p, k) =>
      passOffset(
        wire.diameter,
        p.gapMm,
        passes.slice(k + 1).map((q) => q.stockMm),
      ).value,
  );
}

const path = given(1000, 'mm', 'Path', STATED_FOR_JOB);
/** Half width of the 80 % interval in log terms. */
const spread = (f: { low: number; high: number }): number => Math.log(f.high / f.low) / (2 * Z_80);

describe('one wire pass', () => {
  it('gives the offsets of a five-pass ladder in steel', () => {
    const expected = [0.1975, 0.15, 0.138, 0.132, 0.129];
    offsets(5).forEach((offset, k) => {
      expect(offset).toBeCloseTo(expected[k]!, 6);
    });
  });

  it('keeps offsets, gaps and Ra falling from pass to pass for every wire, machine and ladder', () => {
    let ladders = 0;
    for (const machine of book.wireMachines) {
      for (const wireId of machine.wireIds) {
        for (let n = 1; n <= book.wireLevels.length; n++) {
          const ladder = offsets(n, wireId, machine.id);
          for (let k = 1; k < n; k++) expect(ladder[k]!).toBeLessThan(ladder[k - 1]!);
          expect(ladder[n - 1]!).toBeGreaterThan(findWire(book, wireId)!.diameterMm / 2);
          ladders++;
        }
        for (const material of book.materials.filter((m) => m.isConductive)) {
          const passes = levelsOf(book).map((l) => value(l.level, 50, material.id, wireId, machine.id));
          for (let k = 1; k < passes.length; k++) {
            for (const name of ['gapMm', 'raUm', 'recastUm', 'profileAccuracyMm'] as const) {
              expect(passes[k]![name].value, `${name} ${material.id} ${wireId}`).toBeLessThan(
                passes[k - 1]![name].value,
              );
            }
          }
        }
      }
    }
    expect(ladders).toBeGreaterThan(80);
  });

  it('burns slower in thicker work, with a thinner wire, on the older machine, and in harder-to-burn material', () => {
    const feed = (...args: Parameters<typeof value>): number => value(...args).feedMmPerMin.value;
    for (const level of [1, 2, 5]) {
      const heights = [1, 3, 5, 7, 10, 15, 20, 33, 40, 50, 70, 85, 100, 150, 200, 250];
      for (let k = 1; k < heights.length; k++) {
        expect(feed(level, heights[k]!)).toBeLessThanOrEqual(feed(level, heights[k - 1]!) * (1 + 1e-12));
      }
      expect(feed(level, 50, 'C1045', 'B20')).toBeLessThan(feed(level, 50, 'C1045', 'B25'));
      expect(feed(level, 50, 'C1045', 'B30')).toBe(feed(level, 50, 'C1045', 'B25'));
      expect(feed(level, 50, 'C1045', 'B25', 'W6')).toBeLessThan(feed(level, 50));
      expect(feed(level, 50, 'WC-10Co')).toBeLessThan(feed(level, 50));
      expect(feed(level, 50, '6061')).toBeGreaterThan(feed(level, 50));
    }
  });

  it('keeps the doubt about a material shared between passes, so that the sum stays as wide', () => {
    const times = [1, 2, 3].map((level) => burnTime(path, value(level, 40, 'D2').feedMmPerMin));
    const total = sumOf({ rough: times[0]!, 'skim 1': times[1]!, 'skim 2': times[2]! });
    const independentSd = Math.sqrt(times.reduce((sum, t) => sum + (spread(t) * t.value) ** 2, 0)) / total.value;
    expect(spread(total)).toBeGreaterThan(1.3 * independentSd);
    expect(spread(total)).toBeLessThanOrEqual(Math.max(...times.map(spread)));
    expect(total.doubts['rate-material:D2']! / total.value).toBeCloseTo(-0.25, 2);
    // Two materials do not share what they do not share.
    const other = burnTime(path, value(1, 40, 'WC-10Co').feedMmPerMin);
    expect(other.doubts['rate-material:D2']).toBeUndefined();
    expect(other.doubts['machine:W1']).toBeDefined();
  });

  it('states a rate interval of at least a factor of 1.35 either way until the shop logs its burns', () => {
    for (const material of book.materials.filter((m) => m.isConductive)) {
      const feed = value(1, 50, material.id).feedMmPerMin;
      expect(feed.high / feed.value).toBeGreaterThan(1.35);
    }
  });

  it('slows only the rough cut when a nozzle cannot seal', () => {
    const query = {
      book,
      material: findMaterial(book, 'D2')!,
      wire: findWire(book, 'B25')!,
      machine: findWireMachine(book, 'W1')!,
      burnHeightMm: 50,
    };
    const at = (level: number, nozzles: 'open' | 'sealed'): number =>
      estimateWirePass({ ...query, level: book.wireLevels[level - 1]!, nozzles }).value!.feedMmPerMin.value;
    expect(at(1, 'open') / at(1, 'sealed')).toBeCloseTo(0.55, 12);
    expect(at(2, 'open')).toBe(at(2, 'sealed'));
  });

  it.each([
    ['PROCESS-NOT-CONDUCTIVE', [1, 20, 'alumina', 'B25', 'W1']],
    ['PROCESS-WIRE-NOT-ON-MACHINE', [1, 20, 'D2', 'B10', 'W1']],
    ['PROCESS-WORK-TOO-TALL', [1, 251, 'D2', 'B25', 'W1']],
    ['PROCESS-HEIGHT-REFUSED', [1, 0.4, 'D2', 'B25', 'W1']],
    ['PROCESS-HEIGHT-REFUSED', [2, 450, 'D2', 'B25', 'W5']],
  ] as const)('refuses with %s', (code, args) => {
    const { value, problems } = estimate(args[0], args[1], args[2], args[3], args[4]);
    expect(value).toBeNull();
    expect(problems.map((p) => p.code)).toEqual([code]);
    expect(problems[0]!.severity).toBe('stop');
    expect(problems[0]!.message.length).toBeGreaterThan(40);
  });

  it('warns outside the height table and widens the interval', () => {
    for (const [height, machine] of [
      [2, 'W1'],
      [350, 'W3'],
    ] as const) {
      const { value: outside, problems } = estimate(1, height, 'D2', 'B25', machine);
      expect(problems.map((p) => p.code)).toEqual(['PROCESS-HEIGHT-OUTSIDE-TABLE']);
      expect(spread(outside!.feedMmPerMin)).toBeGreaterThan(spread(value(1, 50, 'D2', 'B25', machine).feedMmPerMin));
    }
  });

  it('refuses a rate above the removal ceiling and warns near it', () => {
    const withPower = (powerW: number): ShopBook => ({
      ...book,
      wireLevels: book.wireLevels.map((l) => ({
        ...l,
        meanPowerW: given(powerW, 'W', 'Power', STATED_FOR_JOB),
      })),
    });
    expect(estimate(1, 50, 'D2', 'B25', 'W1', withPower(5)).problems[0]!.code).toBe('PROCESS-ABOVE-CEILING');
    expect(estimate(1, 50, 'D2', 'B25', 'W1', withPower(5)).value).toBeNull();
    const near = estimate(1, 50, 'D2', 'B25', 'W1', withPower(20));
    expect(near.problems.map((p) => [p.code, p.severity])).toEqual([['PROCESS-NEAR-CEILING', 'warn']]);
    expect(near.value!.ceilingShare.value).toBeGreaterThan(0.3);
  });

  it('treats a nonsense height as our own bug', () => {
    for (const height of [0, -1, Number.NaN, Number.POSITIVE_INFINITY])
      expect(() => estimate(1, height)).toThrow('burned height');
  });

  it('leaves a rougher surface where the material melts more easily', () => {
    const ra = (materialId: string): number => value(1, 50, materialId).raUm.value;
    expect(ra('6061')).toBeGreaterThan(ra('C1045'));
    expect(ra('W')).toBeLessThan(ra('C1045'));
  });
});
