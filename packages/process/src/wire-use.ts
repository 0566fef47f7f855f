import { apply, BY_DEFINITION, defineLaw, type Figure } from '@gapwright/base';
import type { Wire } from './shop-book.js';

const BURN_TIME = defineLaw({
  id: 'burn-time',
  says: 'Burning time is path length divided by feed.',
  formula: 's / v',
  source: BY_DEFINITION,
  inputs: { s: { unit: 'mm', says: 'path length' }, v: { unit: 'mm/min', says: 'feed' } },
  output: 'min',
  evaluate: ({ s, v }) => s / v,
});

const WIRE_LENGTH = defineLaw({
  id: 'wire-length-used',
  says: 'Wire runs off the spool at its running speed as long as it burns.',
  formula: 't v',
  source: BY_DEFINITION,
  inputs: { t: { unit: 'min', says: 'burning time' }, v: { unit: 'm/min', says: 'running speed' } },
  output: 'm',
  evaluate: ({ t, v }) => t * v,
});

const MASS_PER_LENGTH = defineLaw({
  id: 'wire-mass-per-length',
  says: 'Mass of one metre of round wire.',
  formula: 'π/4 d² rho',
  source: BY_DEFINITION,
  inputs: { d: { unit: 'mm', says: 'wire diameter' }, rho: { unit: 'g/cm3', says: 'density' } },
  output: 'g/m',
  // 1 mm² × 1 m = 1 cm³, so mm² × g/cm³ is g/m.
  evaluate: ({ d, rho }) => (Math.PI / 4) * d * d * rho,
});

const WIRE_MASS = defineLaw({
  id: 'wire-mass-used',
  says: 'Mass of the wire used.',
  formula: 'L m / 1000',
  source: BY_DEFINITION,
  inputs: { L: { unit: 'm', says: 'wire used' }, m: { unit: 'g/m', says: 'mass per metre' } },
  output: 'kg',
  evaluate: ({ L, m }) => (L * m) / 1000,
});

const MASS_RATE = defineLaw({
  id: 'wire-mass-rate',
  says: 'Wire used per hour of burning.',
  formula: 'm v 60 / 1000',
  source: BY_DEFINITION,
  inputs: { m: { unit: 'g/m', says: 'mass per metre' }, v: { unit: 'm/min', says: 'running speed' } },
  output: 'kg/h',
  evaluate: ({ m, v }) => (m * v * 60) / 1000,
});

const SPOOL_LENGTH = defineLaw({
  id: 'spool-length',
  says: 'Length of wire on a full spool.',
  formula: '1000 M / m',
  source: BY_DEFINITION,
  inputs: { M: { unit: 'kg', says: 'wire on a spool' }, m: { unit: 'g/m', says: 'mass per metre' } },
  output: 'm',
  evaluate: ({ M, m }) => (1000 * M) / m,
});

const SPOOL_HOURS = defineLaw({
  id: 'spool-hours',
  says: 'A full spool lasts its length divided by the running speed; no longer can the machine burn alone.',
  formula: 'L / (60 v)',
  source: BY_DEFINITION,
  inputs: { L: { unit: 'm', says: 'wire on a spool' }, v: { unit: 'm/min', says: 'running speed' } },
  output: 'h',
  evaluate: ({ L, v }) => L / (60 * v),
});

const SPOOL_SHARE = defineLaw({
  id: 'spools-used',
  says: 'Spools the job uses up.',
  formula: 'L / Ls',
  source: BY_DEFINITION,
  inputs: { L: { unit: 'm', says: 'wire used' }, Ls: { unit: 'm', says: 'wire on a spool' } },
  output: '1',
  evaluate: ({ L, Ls }) => L / Ls,
});

const WIRE_COST = defineLaw({
  id: 'wire-cost',
  says: 'Price of the wire used.',
  formula: 'm p',
  source: BY_DEFINITION,
  inputs: { m: { unit: 'kg', says: 'wire used' }, p: { unit: 'EUR/kg', says: 'wire price' } },
  output: 'EUR',
  evaluate: ({ m, p }) => m * p,
});

/** Burning time, min. */
export function burnTime(pathMm: Figure, feedMmPerMin: Figure): Figure {
  return apply(BURN_TIME, { s: pathMm, v: feedMmPerMin });
}

/** Wire that runs through in this burning time, m. */
export function wireUseM(burnMin: Figure, speedMPerMin: Figure): Figure {
  return apply(WIRE_LENGTH, { t: burnMin, v: speedMPerMin });
}

/** Mass of one metre of the wire, g/m. */
export function wireMassPerM(wire: Pick<Wire, 'diameter' | 'densityGPerCm3'>): Figure {
  return apply(MASS_PER_LENGTH, { d: wire.diameter, rho: wire.densityGPerCm3 });
}

/** Mass of a length of wire, kg. */
export function wireUseKg(lengthM: Figure, wire: Pick<Wire, 'diameter' | 'densityGPerCm3'>): Figure {
  return apply(WIRE_MASS, { L: lengthM, m: wireMassPerM(wire) });
}

/** Wire used per burning hour, kg/h. */
export function wireKgPerH(wire: Wire): Figure {
  return apply(MASS_RATE, { m: wireMassPerM(wire), v: wire.speedMPerMin });
}

/** Length on a full spool, m. */
export function spoolLengthM(wire: Wire): Figure {
  return apply(SPOOL_LENGTH, { M: wire.spoolKg, m: wireMassPerM(wire) });
}

/** Hours a full spool lasts: the longest unattended burn, h. */
export function spoolHours(wire: Wire): Figure {
  return apply(SPOOL_HOURS, { L: spoolLengthM(wire), v: wire.speedMPerMin });
}

/** Spools used, as a fraction; round up for spools to lay out. */
export function spoolsUsed(lengthM: Figure, wire: Wire): Figure {
  return apply(SPOOL_SHARE, { L: lengthM, Ls: spoolLengthM(wire) });
}

/** Price of the wire used, EUR. */
export function wireCost(massKg: Figure, wire: Wire): Figure {
  return apply(WIRE_COST, { m: massKg, p: wire.pricePerKg });
}
