import { type OutsideCheck, outsideCheck } from '@gapwright/base/testing';
import { Clipper, EndType, JoinType } from 'clipper2-ts';
import { describe, expect, it } from 'vitest';
import { findMaterial } from '../find.js';
import { exactly } from '../testing/exactly.js';
import { startingBook } from '../testing/starting-book.js';
import { allowedCurrentDensity, ELECTRODES, perSquareInch } from './electrode.js';
import { electrodesNeeded } from './electrode-count.js';
import { estimateSinking } from './estimate-sinking.js';
import { anodeDiscRadius, equivalentHeatRadius } from './heat-sources.js';
import { dutyOf, meanRectangularCurrent, pulseFrequency } from './pulse-train.js';
import { raWithGrain, sideGap, sinkingRa } from './sinking-laws.js';
import { cavityCornerRadius, checkStages, electrodeSize, orbitRadius, undersizeOf } from './undersize.js';
import { practiceWearRange, wearByMass, wearByVolume } from './wear.js';

const book = startingBook();
const mm = (value: number) => exactly(value, 'mm');
const ratio = (value: number) => exactly(value, '1');
const PRACTICE = { source: 'common practice in die sinking', standing: 'common practice' } as const;
const OFFSET = { source: 'offset geometry, worked by hand', standing: 'from memory' } as const;

function check(row: Omit<OutsideCheck, 'id'> & { id: string }): void {
  outsideCheck({ ...row, id: `sinking-${row.id}` });
}

/** A number inside a published range, checked against the middle of it with half its width allowed. */
function within(id: string, what: string, ours: number, [low, high]: readonly [number, number], unit: string): void {
  const why = 'practice gives a range; half its width';
  check({ ...PRACTICE, id, what, ours, theirs: (low + high) / 2, unit, allowed: (high - low) / 2, why });
}

describe('heat sources', () => {
  it.each([
    [5.6, 2.87, 0.005],
    [100, 24.9, 0.05],
    [560, 90.7, 0.05],
  ])('anode disc after %f µs', (t, um, allowed) => {
    check({
      id: `anode-disc-${t}`,
      what: `Radius of the anode heat disc after ${t} µs`,
      ours: anodeDiscRadius(exactly(t, 'us')).value,
      theirs: um,
      unit: 'um',
      allowed,
      why: 'three digits',
      source: 'Patel et al., J. Appl. Phys. 66 (1989) 4104-4111',
      standing: 'from memory',
    });
  });

  it.each([
    [2.34, 5.6, 14.4, 0.05],
    [10, 100, 95.4, 0.05],
    [68, 560, 464, 0.5],
  ])('equivalent radius at %f A and %f µs', (amp, t, um, allowed) => {
    check({
      id: `equivalent-radius-${t}`,
      what: `Equivalent heat radius at ${amp} A and ${t} µs; with µs put into the SI formula it would be wrong by orders of magnitude`,
      ours: equivalentHeatRadius(exactly(amp, 'A'), exactly(t, 'us')).value,
      theirs: um,
      unit: 'um',
      allowed,
      why: 'three digits',
      source: 'Ikai and Hashiguchi, SI units',
      standing: 'from memory',
    });
  });
});

describe('pulse train identities', () => {
  it('30 A, 50 µs on, 50 µs off', () => {
    const on = exactly(50, 'us');
    const khz = pulseFrequency(on, on);
    const rows = [
      ['duty', 'Duty of 50 µs on, 50 µs off', dutyOf(on, on).value, 0.5, '1'],
      ['frequency', 'Most sparks at 100 µs a pulse', khz.value, 10, 'kHz'],
      ['mean', 'Mean current of 30 A at half duty', meanRectangularCurrent(exactly(30, 'A'), on, khz).value, 15, 'A'],
    ] as const;
    for (const [id, what, ours, theirs, unit] of rows) {
      const common = {
        allowed: 1e-12,
        why: 'arithmetic',
        source: 'definitions of duty and mean',
        standing: 'from memory',
      } as const;
      check({ id: `train-${id}`, what, ours, theirs, unit, ...common });
    }
    expect(pulseFrequency(on, on, ratio(0.8)).value).toBeCloseTo(8, 12);
  });

  it('current density per square inch', () => {
    for (const [perCm2, perIn2, allowed] of [
      [1, 6.45, 0.005],
      [10, 65, 0.5],
    ] as const) {
      check({
        id: `current-density-${perCm2}`,
        what: `${perCm2} A/cm² per square inch`,
        ours: perSquareInch(exactly(perCm2, 'A/cm2')).value,
        theirs: perIn2,
        unit: 'A/in2',
        allowed,
        why: 'rounded in the trade rule',
        ...PRACTICE,
      });
    }
    within('density-graphite', 'Graphite on steel', allowedCurrentDensity('graphite', 'steel').value, [8, 12], 'A/cm2');
    within('density-copper', 'Copper on steel', allowedCurrentDensity('copper', 'steel').value, [5, 8], 'A/cm2');
    within(
      'density-carbide',
      'Copper-tungsten on carbide',
      allowedCurrentDensity('copper-tungsten', 'carbide').value,
      [2, 4],
      'A/cm2',
    );
  });
});

describe('undersize and orbit', () => {
  it('20 mm pocket', () => {
    const fine = undersizeOf(mm(0.025), mm(0.075), mm(0));
    const rough = undersizeOf(mm(0.12), mm(0.07), mm(0.06));
    const common = { unit: 'mm', allowed: 1e-9, why: 'a sum of decimals', ...OFFSET } as const;
    check({
      id: 'undersize-finish',
      what: 'Undersize: gap 0.025, orbit 0.075',
      ours: fine.value,
      theirs: 0.1,
      ...common,
    });
    check({
      id: 'electrode-finish',
      what: 'Electrode for a 20 mm pocket',
      ours: electrodeSize(mm(20), fine).value,
      theirs: 19.8,
      ...common,
    });
    check({
      id: 'undersize-rough',
      what: 'Undersize: gap 0.12, stock 0.06, orbit 0.07',
      ours: rough.value,
      theirs: 0.25,
      ...common,
    });
    check({
      id: 'electrode-rough',
      what: 'Roughing electrode for the pocket',
      ours: electrodeSize(mm(20), rough).value,
      theirs: 19.5,
      ...common,
    });
    check({
      id: 'electrode-boss',
      what: 'Opening for a 20 mm boss',
      ours: electrodeSize(mm(20), fine, 'boss').value,
      theirs: 20.2,
      ...common,
    });
    const impossible = { name: 'rough', electrode: 1, undersizeMm: 0.1, gapMm: 0.12, orbitMm: 0, stockMm: 0 };
    expect(checkStages([impossible]).map((p) => p.code)).toContain('SINKING-GAP-OVER-UNDERSIZE');
  });

  it('orbits of one electrode 0.30 undersize', () => {
    const stages = [
      ['rough', 0.15, 0.08, 0.07],
      ['semi', 0.07, 0.03, 0.2],
      ['finish', 0.025, 0, 0.275],
    ] as const;
    for (const [name, gap, stock, theirs] of stages) {
      check({
        id: `orbit-${name}`,
        what: `Orbit radius of the ${name} stage, undersize 0.30`,
        ours: orbitRadius(mm(0.3), mm(gap), mm(stock)).value,
        theirs,
        unit: 'mm',
        allowed: 1e-9,
        why: 'a difference of decimals',
        ...OFFSET,
      });
    }
    const asStages = stages.map(([name, gapMm, stockMm, orbitMm]) => ({
      name,
      electrode: 1,
      undersizeMm: 0.3,
      gapMm,
      stockMm,
      orbitMm,
    }));
    expect(checkStages(asStages)).toEqual([]);
  });

  it('corner radius against a clipping library', () => {
    // A 10 mm square electrode with corners of 0.2 mm, grown by orbit and gap; the corner is measured from its centre.
    const scale = 1e6;
    const corner = (cx: number, cy: number, from: number) =>
      Array.from({ length: 91 }, (_, k) => {
        const angle = ((from + k) * Math.PI) / 180;
        return {
          x: Math.round((cx + 0.2 * Math.cos(angle)) * scale),
          y: Math.round((cy + 0.2 * Math.sin(angle)) * scale),
        };
      });
    const electrode = [
      ...corner(4.8, 4.8, 0),
      ...corner(-4.8, 4.8, 90),
      ...corner(-4.8, -4.8, 180),
      ...corner(4.8, -4.8, 270),
    ];
    const [grown] = Clipper.inflatePaths([electrode], 0.13 * scale, JoinType.Round, EndType.Polygon, 2, 10);
    const distances = grown!
      .filter(({ x, y }) => x > 4.8 * scale && y > 4.8 * scale)
      .map(({ x, y }) => Math.sqrt((x / scale - 4.8) ** 2 + (y / scale - 4.8) ** 2));
    expect(distances.length).toBeGreaterThan(20);
    check({
      id: 'corner-circular',
      what: 'Cavity corner radius: electrode 0.2, orbit 0.1, gap 0.03',
      ours: cavityCornerRadius(mm(0.2), mm(0.1), mm(0.03)).value,
      theirs: distances.reduce((total, r) => total + r, 0) / distances.length,
      unit: 'mm',
      allowed: 1e-4,
      why: 'chords of the drawn corner, 1° each',
      source: 'clipper2-ts, offset of the electrode by orbit and gap',
      standing: 'library',
    });
    expect(cavityCornerRadius(mm(0.2), mm(0.1), mm(0.03), 'square').value).toBeCloseTo(0.23, 12);
  });
});

describe('wear', () => {
  const steel = exactly(7.85, 'g/cm3');

  it('converts volume to mass', () => {
    for (const [kind, theirs] of [
      ['copper', 1.139],
      ['graphite', 0.229],
    ] as const) {
      const byMass = wearByMass(ratio(1), ELECTRODES[kind].densityGPerCm3, steel);
      check({
        id: `wear-mass-${kind}`,
        what: `Wear by mass per wear by volume, ${kind} on steel`,
        ours: byMass.value,
        theirs,
        unit: '1',
        allowed: 5e-4,
        why: 'three decimals',
        source: 'ratio of densities, worked by hand',
        standing: 'from memory',
      });
      expect(wearByVolume(byMass, ELECTRODES[kind].densityGPerCm3, steel).value).toBeCloseTo(1, 12);
    }
  });

  it.each([
    [0.01, 1, 0.2, 0.2],
    [0.01, 2, 0.002, 0.002],
    [0.1, 1, 2, 2],
    [0.1, 2, 0.2, 0.2],
    [0.1, 3, 0.02, 0.02],
  ])('wear %f: electrode %d leaves %f mm of 20', (theta, count, tolerance, theirs) => {
    const { value } = electrodesNeeded(mm(20), [ratio(theta)], tolerance);
    check({
      id: `electrodes-${theta}-${count}`,
      what: `End error after electrode ${count} at 20 mm depth, wear ${theta}`,
      ours: value!.endErrorsMm.at(-1)!.value,
      theirs,
      unit: 'mm',
      allowed: 1e-9,
      why: 'a product',
      source: 'product of wears, worked by hand',
      standing: 'from memory',
    });
    expect(value!.count).toBe(count);
  });

  it('is within practice by mass on titanium only for short pulses and far above the published graphite burns', () => {
    // 30 published burns: 0.08 % to 6.7 % by mass at 6 to 10 µs. The table says 25 to 50 % by volume: a factor of ten. It
    // is listed so that nobody takes the table for measured.
    const [low] = practiceWearRange('graphite', 'titanium', 'finish');
    const byMass = wearByMass(ratio(low), ELECTRODES.graphite.densityGPerCm3, exactly(4.6, 'g/cm3')).value;
    expect(byMass).toBeGreaterThan(0.067);
  });
});

describe('finish, gap and rate against practice and published burns', () => {
  const steel = exactly(7.48, 'J/mm3');
  /** Pulse energy that gives a Ra in steel, mJ. */
  const energyFor = (raUm: number) => exactly((raUm / 1.6) ** 3, 'mJ');

  it.each([
    [0.4, 0.01, 0.02],
    [1.6, 0.025, 0.04],
    [3.2, 0.05, 0.07],
    [6.3, 0.1, 0.15],
    [12.5, 0.2, 0.3],
  ])('side gap at Ra %f', (ra, low, high) => {
    const energy = energyFor(ra);
    expect(sinkingRa(energy, steel, 'C1045').value!.value).toBeCloseTo(ra, 9);
    const gap = sideGap(exactly(100, 'V'), energy, 'C1045').value!.value;
    within(`gap-ra-${ra}`, `Side gap where Ra is ${ra} µm, open voltage 100 V`, gap, [low, high], 'mm');
  });

  it('graphite grain', () => {
    within(
      'grain',
      'Finest Ra with superfine graphite of 8 µm grain',
      raWithGrain(exactly(0.2, 'um'), exactly(8, 'um')).value,
      [0.6, 1],
      'um',
    );
  });

  it.each([
    ['yahya-4', 4, 50, 18],
    ['yahya-12', 12.5, 50, 55],
  ])('%s: rate in steel with copper', (id, current, on, theirs) => {
    const { value } = estimateSinking({
      material: findMaterial(book, 'C1045')!,
      electrode: 'copper',
      setting: {
        gapVoltageV: 25,
        openVoltageV: 100,
        currentA: current,
        onTimeUs: on,
        offTimeUs: on,
        toolPolarity: 'positive',
      },
      frontalAreaMm2: 400,
      depthMm: 5,
    });
    const { removalMm3PerMin } = value!;
    check({
      id,
      what: `Removal rate in steel at ${current} A, ${on} µs`,
      ours: removalMm3PerMin.value,
      theirs,
      unit: 'mm3/min',
      allowed: Math.max(removalMm3PerMin.high - removalMm3PerMin.value, removalMm3PerMin.value - removalMm3PerMin.low),
      why: 'inside the stated 80 % interval; gap voltage 25 V and half duty are assumed, the paper was read second-hand',
      source: 'Yahya et al. 2011, quoted in Izwan et al., Procedia Manufacturing 5 (2016)',
      standing: 'published',
    });
  });
});
