import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Material } from './shop-book.js';
import { ELECTRODES, type ElectrodeKind, workGroupOf } from './sinking/electrode.js';
import { estimateSinking, type SinkingQuery } from './sinking/estimate-sinking.js';
import { startingBook } from './testing/starting-book.js';
import { estimateWirePass } from './wire-pass.js';

const book = startingBook();
const conducting = book.materials.filter((m) => m.isConductive);
const sinkable = conducting.filter((m) => workGroupOf(m) !== null);
const RUNS = 10_000;

/** Evenly spread on a log axis, as settings of generators are. */
const logUniform = (low: number, high: number): fc.Arbitrary<number> =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);

const sinkings: fc.Arbitrary<SinkingQuery> = fc.record({
  material: fc.constantFrom(...sinkable),
  electrode: fc.constantFrom(...(Object.keys(ELECTRODES) as ElectrodeKind[])),
  setting: fc.record({
    gapVoltageV: logUniform(15, 40),
    openVoltageV: logUniform(60, 300),
    currentA: logUniform(0.5, 200),
    onTimeUs: logUniform(0.5, 2000),
    offTimeUs: logUniform(0.5, 2000),
    toolPolarity: fc.constantFrom('positive' as const, 'negative' as const),
  }),
  frontalAreaMm2: logUniform(1, 50_000),
  depthMm: logUniform(0.1, 200),
});

const sink = (query: SinkingQuery) => estimateSinking(query).value;

describe('the energy ceiling', () => {
  it(`holds for ${RUNS} random sinkings`, () => {
    let estimates = 0;
    fc.assert(
      fc.property(sinkings, (query) => {
        const { value, problems } = estimateSinking(query);
        if (value === null) {
          expect(problems.some((p) => p.severity === 'stop')).toBe(true);
          return;
        }
        estimates += 1;
        // The bound is worked anew from the bare numbers: power × 60 / energy to melt.
        const { currentA, onTimeUs, offTimeUs, gapVoltageV } = query.setting;
        const watts = (gapVoltageV * currentA * onTimeUs) / (onTimeUs + offTimeUs);
        expect(value.removalMm3PerMin.value).toBeLessThanOrEqual((60 * watts) / meltJPerMm3(query.material));
        expect(value.ceilingShare.value).toBeLessThanOrEqual(1);
        if (value.ceilingShare.value > 0.3) expect(problems.map((p) => p.code)).toContain('PROCESS-NEAR-CEILING');
      }),
      { numRuns: RUNS, seed: 11 },
    );
    expect(estimates).toBeGreaterThan(RUNS / 2);
  });

  it(`holds for ${RUNS} random wire passes`, () => {
    let estimates = 0;
    const passes = fc.record({
      material: fc.constantFrom(...conducting),
      wire: fc.constantFrom(...book.wires),
      machine: fc.constantFrom(...book.wireMachines),
      level: fc.constantFrom(...book.wireLevels),
      burnHeightMm: logUniform(0.6, 400),
    });
    fc.assert(
      fc.property(passes, (query) => {
        const { value } = estimateWirePass({ book, ...query });
        if (value === null) return;
        estimates += 1;
        const watts = query.level.meanPowerW.value;
        expect(value.removalMm3PerMin.value).toBeLessThanOrEqual((60 * watts) / meltJPerMm3(query.material));
        expect(value.ceilingShare.value).toBeLessThanOrEqual(1);
      }),
      { numRuns: RUNS, seed: 12 },
    );
    expect(estimates).toBeGreaterThan(RUNS / 4);
  });

  it('refuses a shop book whose rate is a hundred times too high', () => {
    const rough = book.wireLevels[0]!;
    const rate = rough.areaRateMm2PerMin!;
    const level = { ...rough, areaRateMm2PerMin: { ...rate, value: rate.value * 100 } };
    const material = conducting.find((m) => m.id === 'C1045')!;
    const [machine] = book.wireMachines;
    const wire = book.wires.find((w) => w.id === 'B25')!;
    const { value, problems } = estimateWirePass({ book, material, wire, machine: machine!, level, burnHeightMm: 50 });
    expect(value).toBeNull();
    expect(problems.map((p) => p.code)).toContain('PROCESS-ABOVE-CEILING');
  });
});

/** Heat balance written out again, so that the bound does not rest on the law under test. */
function meltJPerMm3(m: Material): number {
  const perGram = m.heatCapacityJPerGK.value * (m.meltingC.value - 20) + m.latentHeatJPerG.value;
  return (m.densityGPerCm3.value / 1000) * perGram;
}

describe('monotone laws', () => {
  it('finer finish is never faster: less pulse energy at the same duty gives finer Ra and no higher rate', () => {
    fc.assert(
      fc.property(sinkings, fc.double({ min: 0.2, max: 0.99, noNaN: true }), (query, factor) => {
        const finer: SinkingQuery = {
          ...query,
          setting: {
            ...query.setting,
            onTimeUs: query.setting.onTimeUs * factor,
            offTimeUs: query.setting.offTimeUs * factor,
          },
        };
        const [a, b] = [sink(query), sink(finer)];
        if (a === null || b === null) return;
        // The grain of graphite may hold both at the same Ra.
        expect(b.raUm.value).toBeLessThanOrEqual(a.raUm.value);
        expect(b.removalMm3PerMin.value).toBeLessThanOrEqual(a.removalMm3PerMin.value * (1 + ROUNDING));
        expect(b.sideGapMm.value).toBeLessThanOrEqual(a.sideGapMm.value);
      }),
      { numRuns: 1000, seed: 13 },
    );
  });

  it('a finer wire level is never faster than a coarser one at the same height', () => {
    const material = conducting.find((m) => m.id === 'D2')!;
    const machine = book.wireMachines[0]!;
    const wire = book.wires.find((w) => w.id === 'B25')!;
    for (const burnHeightMm of [5, 20, 50, 100]) {
      const removal = book.wireLevels.map((level) => {
        const { value } = estimateWirePass({ book, material, wire, machine, level, burnHeightMm });
        return { ra: value!.raUm.value, rate: value!.removalMm3PerMin.value };
      });
      for (let k = 1; k < removal.length; k++) {
        expect(removal[k]!.ra).toBeLessThan(removal[k - 1]!.ra);
        expect(removal[k]!.rate).toBeLessThanOrEqual(removal[k - 1]!.rate);
      }
    }
  });

  it('a thicker wire is never slower below its limit', () => {
    const brass = book.wires.filter((w) => w.id.startsWith('B')).sort((a, b) => a.diameterMm - b.diameterMm);
    expect(brass.length).toBeGreaterThan(2);
    fc.assert(
      fc.property(
        fc.constantFrom(...conducting),
        fc.constantFrom(...book.wireLevels),
        logUniform(2, 200),
        (material, level, burnHeightMm) => {
          let before = 0;
          for (const wire of brass) {
            const machine = book.wireMachines.find((m) => m.wireIds.includes(wire.id) && m.maxHeightMm >= burnHeightMm);
            if (machine === undefined) continue;
            const one = { ...machine, rateFactor: book.wireMachines[0]!.rateFactor };
            const { value } = estimateWirePass({ book, material, wire, machine: one, level, burnHeightMm });
            if (value === null) continue;
            expect(value.areaRateMm2PerMin.value).toBeGreaterThanOrEqual(before * (1 - ROUNDING));
            before = value.areaRateMm2PerMin.value;
          }
        },
      ),
      { numRuns: 300, seed: 14 },
    );
  });

  it('harder to melt is never faster at equal energy', () => {
    fc.assert(
      fc.property(sinkings, fc.constantFrom(...sinkable), (query, other) => {
        const [a, b] = [sink(query), sink({ ...query, material: other })];
        if (a === null || b === null) return;
        const harder = meltJPerMm3(other) >= meltJPerMm3(query.material);
        const [slow, fast] = harder ? [b, a] : [a, b];
        expect(slow.removalMm3PerMin.value).toBeLessThanOrEqual(fast.removalMm3PerMin.value * (1 + ROUNDING));
      }),
      { numRuns: 1000, seed: 15 },
    );
  });

  it('deeper never burns, jumps or wears less', () => {
    fc.assert(
      fc.property(sinkings, (query) => {
        const [a, b] = [sink(query), sink({ ...query, depthMm: query.depthMm * 1.5 })];
        if (a === null || b === null) return;
        expect(b.elapsedMin.value).toBeGreaterThan(a.elapsedMin.value);
        expect(b.jumpShare.value).toBeGreaterThanOrEqual(a.jumpShare.value);
        expect(b.endWearMm.value).toBeGreaterThan(a.endWearMm.value);
      }),
      { numRuns: 500, seed: 16 },
    );
  });
});

/** Relative rounding of a dozen multiplications. */
const ROUNDING = 1e-12;
