import { apply, BugError, BY_DEFINITION, defineLaw, type Figure, given, Z_80 } from '@gapwright/base';
import type { Material } from '../shop-book.js';
import { SINKING_PRACTICE } from './sources.js';

/** What electrodes are made of. */
export type ElectrodeKind = 'copper' | 'graphite' | 'copper-tungsten';

/** Work materials that wear electrodes alike. */
export type WorkGroup = 'steel' | 'aluminium' | 'titanium' | 'nickel' | 'carbide' | 'copper';

/** An electrode material with the figures sinking needs. */
export interface ElectrodeMaterial {
  readonly kind: ElectrodeKind;
  readonly says: string;
  readonly densityGPerCm3: Figure;
  /** Grain of graphite, `um`; null for metals. */
  readonly grainUm: Figure | null;
}

const range = (low: number, high: number, unit: string, says: string, cause: string): Figure =>
  given(Math.sqrt(low * high), unit, says, SINKING_PRACTICE, { relative: Math.log(high / low) / (2 * Z_80), cause });

/** Copper, the usual fine-grained graphite and copper-tungsten (70 % W). */
export const ELECTRODES: Readonly<Record<ElectrodeKind, ElectrodeMaterial>> = Object.freeze({
  copper: {
    kind: 'copper',
    says: 'copper',
    densityGPerCm3: given(8.94, 'g/cm3', 'Density of copper', SINKING_PRACTICE),
    grainUm: null,
  },
  graphite: {
    kind: 'graphite',
    says: 'graphite',
    densityGPerCm3: given(1.8, 'g/cm3', 'Density of electrode graphite', SINKING_PRACTICE),
    grainUm: range(
      1,
      10,
      'um',
      'Grain of usual electrode graphite (ultrafine to superfine)',
      'electrode-grain:graphite',
    ),
  },
  'copper-tungsten': {
    kind: 'copper-tungsten',
    says: 'copper-tungsten',
    densityGPerCm3: given(14, 'g/cm3', 'Density of copper-tungsten with 70 % tungsten', SINKING_PRACTICE),
    grainUm: null,
  },
});

const GROUP_OF_FAMILY: Readonly<Partial<Record<Material['family'], WorkGroup>>> = {
  'carbon steel': 'steel',
  'tool steel': 'steel',
  'stainless steel': 'steel',
  titanium: 'titanium',
  'nickel alloy': 'nickel',
  'cobalt alloy': 'nickel',
  carbide: 'carbide',
  aluminium: 'aluminium',
  'copper alloy': 'copper',
};

/** The wear group of a work material; null for graphite, refractory metals and ceramics, which have no sinking figures. */
export function workGroupOf(material: Material): WorkGroup | null {
  return GROUP_OF_FAMILY[material.family] ?? null;
}

const DENSITY_LIMIT: Readonly<Record<ElectrodeKind, readonly [low: number, high: number]>> = {
  graphite: [8, 12],
  copper: [5, 8],
  'copper-tungsten': [10, 15],
};

/** Carbide and titanium arc early: 2 to 4 A/cm² whatever the electrode. */
const DELICATE_LIMIT = [2, 4] as const;

const ALLOWED_CURRENT = defineLaw({
  id: 'sinking-current-limit',
  says: 'The mean current is limited by the eroding area seen in the feed direction; more of it arcs.',
  formula: 'J A / 100',
  source: SINKING_PRACTICE,
  inputs: {
    J: { unit: 'A/cm2', says: 'allowed current density' },
    A: { unit: 'mm2', says: 'frontal area' },
  },
  output: 'A',
  evaluate: ({ J, A }) => (J * A) / 100,
});

const PER_SQUARE_INCH = defineLaw({
  id: 'current-density-inch',
  says: 'Current density per square inch.',
  formula: '6.4516 J',
  source: BY_DEFINITION,
  inputs: { J: { unit: 'A/cm2', says: 'current density' } },
  output: 'A/in2',
  evaluate: ({ J }) => 6.4516 * J,
});

/** Allowed mean current over the frontal area, A/cm²: by electrode, lower on carbide and titanium. */
export function allowedCurrentDensity(electrode: ElectrodeKind, work: WorkGroup): Figure {
  const [low, high] = work === 'carbide' || work === 'titanium' ? DELICATE_LIMIT : DENSITY_LIMIT[electrode];
  const cause = `current-density:${electrode}-${work}`;
  return range(low, high, 'A/cm2', `Allowed current density of ${electrode} on ${work}`, cause);
}

/** Largest mean current for a frontal area, A. Throws a BugError for an area that is not positive. */
export function allowedCurrent(electrode: ElectrodeKind, work: WorkGroup, frontalAreaMm2: Figure): Figure {
  if (!(frontalAreaMm2.value > 0)) throw new BugError(`frontal area must be positive, got ${frontalAreaMm2.value}`);
  return apply(ALLOWED_CURRENT, { J: allowedCurrentDensity(electrode, work), A: frontalAreaMm2 });
}

/** The same current density per square inch. */
export function perSquareInch(densityAPerCm2: Figure): Figure {
  return apply(PER_SQUARE_INCH, { J: densityAPerCm2 });
}
