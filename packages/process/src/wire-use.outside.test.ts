import { given, STATED_FOR_JOB } from '@gapwright/base';
import { outsideCheck } from '@gapwright/base/testing';
import Qty from 'js-quantities';
import { describe, it } from 'vitest';
import { removalCeiling } from './energy.js';
import { findMaterial, findWire } from './find.js';
import type { Wire } from './shop-book.js';
import { slugMass } from './slug.js';
import { exactly } from './testing/exactly.js';
import { startingBook } from './testing/starting-book.js';
import { wireBreakForce } from './wire-bow.js';
import { burnTime, spoolHours, spoolLengthM, wireKgPerH, wireMassPerM, wireUseKg, wireUseM } from './wire-use.js';

const book = startingBook();

/** A wire of the book run at 10 m/min from a spool of this mass. */
function wireAt10(id: string, spoolKg = 5): Wire {
  const wire = findWire(book, id)!;
  return { ...wire, speedMPerMin: exactly(10, 'm/min'), spoolKg: exactly(spoolKg, 'kg') };
}

const WORKED = {
  source: 'wire tables worked by hand from section, density 8.5 g/cm³ and strength',
  standing: 'from memory',
} as const;

describe('wire use', () => {
  it.each([
    ['B10', 0.0668, 0.0401, 7.1],
    ['B15', 0.1502, 0.0901, 15.9],
    ['B20', 0.267, 0.1602, 28.3],
    ['B25', 0.4172, 0.2503, 44.2],
    ['B30', 0.6008, 0.3605, 63.6],
  ])('%s', (id, gPerM, kgPerH, breakN) => {
    const wire = wireAt10(id);
    const force = wireBreakForce(wire.diameter, exactly(900, 'N/mm2')).value;
    for (const [name, what, ours, theirs, unit, allowed] of [
      ['g-per-m', 'mass per metre', wireMassPerM(wire).value, gPerM, 'g/m', 6e-5],
      ['kg-per-h', 'use at 10 m/min', wireKgPerH(wire).value, kgPerH, 'kg/h', 6e-5],
      ['break', 'breaking force at 900 N/mm²', force, breakN, 'N', 0.06],
    ] as const) {
      const why = 'digits of the table';
      outsideCheck({
        ...WORKED,
        id: `process-wire-${id}-${name}`,
        what: `Brass wire ${id}: ${what}`,
        ours,
        theirs,
        unit,
        allowed,
        why,
      });
    }
  });

  it.each([
    ['B25', 5, 11_985, 20],
    ['B20', 8, 29_960, 49.9],
  ])('%s spool of %d kg', (id, spoolKg, lengthM, hours) => {
    const wire = wireAt10(id, spoolKg);
    outsideCheck({
      ...WORKED,
      id: `process-spool-${id}-m`,
      what: `Wire on a ${spoolKg} kg spool of ${id}`,
      ours: spoolLengthM(wire).value,
      theirs: lengthM,
      unit: 'm',
      allowed: 5,
      why: 'rounded to a few metres',
    });
    outsideCheck({
      ...WORKED,
      id: `process-spool-${id}-h`,
      what: `Hours of a ${spoolKg} kg spool of ${id} at 10 m/min`,
      ours: spoolHours(wire).value,
      theirs: hours,
      unit: 'h',
      allowed: 0.05,
      why: 'one decimal',
    });
  });

  it('weighs a slug', () => {
    outsideCheck({
      id: 'process-slug',
      what: 'Steel slug 100 × 50 × 40 mm',
      ours: slugMass(exactly(5000, 'mm2'), exactly(40, 'mm'), findMaterial(book, 'steel')!.densityGPerCm3).value,
      theirs: 1570,
      unit: 'g',
      allowed: 1,
      why: 'three digits',
      source: 'worked by hand',
      standing: 'from memory',
    });
  });
});

describe('units by an independent library', () => {
  const compare = (id: string, what: string, ours: number, theirs: number, unit: string): void => {
    outsideCheck({
      id: `process-units-${id}`,
      what,
      ours,
      theirs,
      unit,
      allowed: 1e-9 * Math.abs(theirs),
      why: 'rounding of the arithmetic only',
      source: 'js-quantities',
      standing: 'library',
    });
  };

  it('wire, time and mass', () => {
    const wire = wireAt10('B25');
    const section = new Qty(`${(Math.PI / 4) * 0.25 * 0.25} mm^2`);
    const perMetre = section.mul(new Qty('8.5 g/cm^3'));
    compare('g-per-m', 'g/m of 0.25 mm wire', wireMassPerM(wire).value, perMetre.to('g/m').scalar, 'g/m');
    compare(
      'kg-per-h',
      'kg/h at 10 m/min',
      wireKgPerH(wire).value,
      perMetre.mul(new Qty('10 m/min')).to('kg/h').scalar,
      'kg/h',
    );
    const burn = burnTime(exactly(730, 'mm'), exactly(4.1, 'mm/min'));
    const time = new Qty('73 cm').div(new Qty('4.1 mm/min'));
    compare('burn', 'minutes for 730 mm at 4.1 mm/min', burn.value, time.to('min').scalar, 'min');
    const length = wireUseM(burn, wire.speedMPerMin);
    compare('wire-m', 'wire in that time', length.value, time.mul(new Qty('10 m/min')).to('m').scalar, 'm');
    const mass = time.mul(new Qty('10 m/min')).mul(perMetre);
    compare('wire-kg', 'its mass', wireUseKg(length, wire).value, mass.to('kg').scalar, 'kg');
    compare(
      'slug',
      'slug of 12.5 cm² × 4 cm at 7.85 g/cm³',
      slugMass(exactly(1250, 'mm2'), exactly(40, 'mm'), exactly(7.85, 'g/cm3')).value,
      new Qty('12.5 cm^2').mul(new Qty('4 cm')).mul(new Qty('7.85 g/cm^3')).to('g').scalar,
      'g',
    );
  });

  it('power and heat', () => {
    const steel = findMaterial(book, 'steel')!;
    const warming = new Qty('0.46 J/g').mul(1500 - 20).to('J/g').scalar + 272;
    const perVolume = new Qty('7.85 g/cm^3').mul(new Qty(`${warming} J/g`));
    const ceiling = new Qty('312.5 W').div(perVolume).to('mm^3/min').scalar;
    const power = given(312.5, 'W', 'Power', STATED_FOR_JOB);
    compare('ceiling', 'ceiling of 312.5 W in steel', removalCeiling(steel, power).value, ceiling, 'mm3/min');
  });
});
