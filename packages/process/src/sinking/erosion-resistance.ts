import { apply, defineLaw, type Figure } from '@gapwright/base';
import type { Material } from '../shop-book.js';
import { EROSION_INDEX_SOURCE } from './sources.js';

const INDEX = defineLaw({
  id: 'erosion-resistance-index',
  says: 'How strongly a material resists erosion: it conducts heat away, stores it and melts late.',
  formula: 'k c Tm² / 1e6',
  source: EROSION_INDEX_SOURCE,
  inputs: {
    k: { unit: 'W/mK', says: 'heat conductivity' },
    c: { unit: 'J/gK', says: 'heat capacity' },
    Tm: { unit: 'degC', says: 'melting point', valid: [100, 4500] },
  },
  // The absolute unit is of no use; only ratios between materials are.
  output: 'index',
  evaluate: ({ k, c, Tm }) => (k * c * Tm * Tm) / 1e6,
});

/**
 * Erosion resistance index k c Tm². Only ratios mean something: tungsten and copper resist, steel less, titanium little.
 * It ranks materials; rates rest on the energy to melt (`meltEnergy`), because the index knows no heat of melting.
 */
export function erosionResistance(material: Material): Figure {
  return apply(INDEX, { k: material.conductivityWPerMK, c: material.heatCapacityJPerGK, Tm: material.meltingC });
}
