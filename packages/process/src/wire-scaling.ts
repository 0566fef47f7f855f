import { apply, BugError, BY_DEFINITION, defineLaw, type Figure, given } from '@gapwright/base';
import { meltEnergy } from './energy.js';
import type { Material, ShopBook, Wire, WireLevel } from './shop-book.js';
import {
  CRATER_SCALING,
  ELECTRODE_THESIS,
  GAP_DIAMETER_PRACTICE,
  HEIGHT_ACCURACY_ESTIMATE,
  RA_MELTING_ESTIMATE,
} from './sources.js';

/** Diameter the levels of a shop book refer to, mm; thicker wires burn no faster. */
export const REFERENCE_DIAMETER_MM = 0.25;

const WIRE_RATE = defineLaw({
  id: 'wire-rate-by-diameter',
  says: 'Thin wires carry less current: the area rate goes with the square root of the diameter up to 0.25 mm and stays beyond.',
  formula: 'sqrt(min(d, 0.25) / 0.25)',
  source: ELECTRODE_THESIS,
  inputs: { d: { unit: 'mm', says: 'wire diameter', valid: [0.05, 0.36] } },
  output: '1',
  evaluate: ({ d }) => Math.sqrt(Math.min(d, REFERENCE_DIAMETER_MM) / REFERENCE_DIAMETER_MM),
});

const GAP_SCALE = defineLaw({
  id: 'gap-by-diameter',
  says: 'The usual rough gap grows by a tenth of the wire diameter (0.005 + 0.1 d, 0.030 at 0.25 mm); finer levels follow it less.',
  formula: '((0.005 + 0.1 d) / 0.030)^w',
  source: GAP_DIAMETER_PRACTICE,
  inputs: {
    d: { unit: 'mm', says: 'wire diameter', valid: [0.1, 0.3] },
    w: { unit: '1', says: 'how far the wire limits the energy of the level', valid: [0, 1] },
  },
  output: '1',
  evaluate: ({ d, w }) => ((0.005 + 0.1 * d) / 0.03) ** w,
});

const ENERGY_SCALE = defineLaw({
  id: 'pulse-energy-by-diameter',
  says: 'The gap goes with the cube root of the pulse energy, so the energy goes with the cube of the gap.',
  formula: 's^3',
  source: CRATER_SCALING,
  inputs: { s: { unit: '1', says: 'gap relative to the 0.25 mm wire' } },
  output: '1',
  evaluate: ({ s }) => s * s * s,
});

const GAP = defineLaw({
  id: 'wire-gap',
  says: 'Gap of the level, scaled to the wire.',
  formula: 'g0 s',
  source: GAP_DIAMETER_PRACTICE,
  inputs: {
    g0: { unit: 'mm', says: 'gap at reference conditions' },
    s: { unit: '1', says: 'gap relative to the 0.25 mm wire' },
  },
  output: 'mm',
  scatter: { relative: 0.15, cause: 'gap-material' },
  evaluate: ({ g0, s }) => g0 * s,
});

const STOCK = defineLaw({
  id: 'wire-stock',
  says: 'Stock of the level; it shrinks with the traces of the level before it.',
  formula: 's0 s',
  source: GAP_DIAMETER_PRACTICE,
  inputs: {
    s0: { unit: 'mm', says: 'stock at reference conditions' },
    s: { unit: '1', says: 'gap relative to the 0.25 mm wire' },
  },
  output: 'mm',
  evaluate: ({ s0, s }) => s0 * s,
});

const RA = defineLaw({
  id: 'wire-ra',
  says: 'Roughness goes with the cube root of the pulse energy and with how easily the material melts.',
  formula: 'Ra0 E^(1/3) m',
  source: CRATER_SCALING,
  inputs: {
    Ra0: { unit: 'um', says: 'Ra at reference conditions' },
    E: { unit: '1', says: 'pulse energy relative to reference' },
    m: { unit: '1', says: 'material factor on Ra' },
  },
  output: 'um',
  scatter: { relative: 0.15, cause: 'ra-material' },
  evaluate: ({ Ra0, E, m }) => Ra0 * Math.cbrt(E) * m,
});

const RA_MATERIAL = defineLaw({
  id: 'ra-by-melt-energy',
  says: 'A crater holds as much metal as its energy melts, and Ra goes with the cube root of its volume.',
  formula: '(e_ref / e)^(1/3)',
  source: RA_MELTING_ESTIMATE,
  inputs: {
    e_ref: { unit: 'J/mm3', says: 'energy to melt the reference material' },
    e: { unit: 'J/mm3', says: 'energy to melt this material' },
  },
  output: '1',
  evaluate: ({ e_ref, e }) => Math.cbrt(e_ref / e),
});

const RECAST = defineLaw({
  id: 'wire-recast',
  says: 'Recast depth goes with the cube root of the pulse energy; an estimate to be confirmed by cut-ups.',
  formula: 'r0 E^(1/3)',
  source: CRATER_SCALING,
  inputs: {
    r0: { unit: 'um', says: 'recast at reference conditions' },
    E: { unit: '1', says: 'pulse energy relative to reference' },
  },
  output: 'um',
  scatter: { relative: 0.3, cause: 'recast-material' },
  evaluate: ({ r0, E }) => r0 * Math.cbrt(E),
});

const ACCURACY = defineLaw({
  id: 'wire-accuracy',
  says: 'Profile accuracy of the level; taller work is worse by the square root of height.',
  formula: 'a0 sqrt(max(H, H0) / H0)',
  source: HEIGHT_ACCURACY_ESTIMATE,
  inputs: {
    a0: { unit: 'mm', says: 'accuracy at reference conditions' },
    H: { unit: 'mm', says: 'burned height' },
    H0: { unit: 'mm', says: 'reference height' },
  },
  output: 'mm',
  scatter: { relative: 0.15, cause: 'accuracy-machine' },
  evaluate: ({ a0, H, H0 }) => a0 * Math.sqrt(Math.max(H, H0) / H0),
});

/** Area rate of a wire relative to the 0.25 mm wire. */
export function wireRateFactorOf(wire: Wire): Figure {
  return apply(WIRE_RATE, { d: wire.diameter });
}

/** Gap, stock, Ra, recast and accuracy of one level with one wire in one material. */
export interface LevelTraces {
  readonly gapMm: Figure;
  /** Null for the rough level. */
  readonly stockMm: Figure | null;
  readonly raUm: Figure;
  readonly recastUm: Figure;
  readonly profileAccuracyMm: Figure;
}

/** Scales a level of the book from reference conditions to this wire, material and height. `about` the machine for its accuracy. */
export function levelTraces(
  book: ShopBook,
  level: WireLevel,
  wire: Wire,
  material: Material,
  heightMm: Figure,
  machineId: string,
): LevelTraces {
  const gapScale = apply(GAP_SCALE, { d: wire.diameter, w: level.wireSensitivity });
  const energy = apply(ENERGY_SCALE, { s: gapScale });
  return {
    gapMm: apply(GAP, { g0: level.gapMm, s: gapScale }, material.id),
    stockMm:
      level.stockMm === null
        ? null
        : apply(STOCK, {
            s0: level.stockMm,
            s: apply(GAP_SCALE, { d: wire.diameter, w: levelBefore(book, level).wireSensitivity }),
          }),
    raUm: apply(RA, { Ra0: level.raUm, E: energy, m: raFactorOf(book, material) }, material.id),
    recastUm: apply(RECAST, { r0: level.recastUm, E: energy }, material.id),
    profileAccuracyMm: apply(
      ACCURACY,
      { a0: level.profileAccuracyMm, H: heightMm, H0: book.rules.referenceHeightMm },
      machineId,
    ),
  };
}

function levelBefore(book: ShopBook, level: WireLevel): WireLevel {
  const before = book.wireLevels[level.level - 2];
  if (before === undefined) throw new BugError(`level ${level.level} has no level before it in the shop book`);
  return before;
}

/** Ra of a material relative to the reference material at the same level: the book's figure, else the melting law. */
export function raFactorOf(book: ShopBook, material: Material): Figure {
  if (material.raFactor !== null) return material.raFactor;
  const reference = book.materials.find((m) => m.id === book.rules.referenceMaterialId);
  if (reference === undefined || reference.id === material.id) {
    return given(1, '1', 'The reference material itself', BY_DEFINITION);
  }
  return apply(RA_MATERIAL, { e_ref: meltEnergy(reference), e: meltEnergy(material) });
}
