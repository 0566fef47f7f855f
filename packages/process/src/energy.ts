import { apply, BY_DEFINITION, defineLaw, type Figure, given } from '@gapwright/base';
import type { Material } from './shop-book.js';
import { HEAT_BALANCE } from './sources.js';

/** Room temperature the metal starts from, degC. */
const ROOM_C = 20;

const MELT_ENERGY = defineLaw({
  id: 'melt-energy',
  says: 'Energy to warm one cubic millimetre from 20 °C to melting and to melt it.',
  formula: 'rho / 1000 × (c (Tm − 20) + Lm)',
  source: HEAT_BALANCE,
  inputs: {
    rho: { unit: 'g/cm3', says: 'density' },
    c: { unit: 'J/gK', says: 'heat capacity' },
    Tm: { unit: 'degC', says: 'melting point', valid: [100, 4500] },
    Lm: { unit: 'J/g', says: 'heat of melting' },
  },
  output: 'J/mm3',
  evaluate: ({ rho, c, Tm, Lm }) => (rho / 1000) * (c * (Tm - ROOM_C) + Lm),
});

const CEILING = defineLaw({
  id: 'removal-ceiling',
  says: 'No more metal can melt than the power in the gap can melt.',
  formula: '60 eta P / e',
  source: HEAT_BALANCE,
  inputs: {
    eta: { unit: '1', says: 'share of the power that melts work', valid: [0, 1] },
    P: { unit: 'W', says: 'mean power in the gap' },
    e: { unit: 'J/mm3', says: 'energy to melt' },
  },
  output: 'mm3/min',
  evaluate: ({ eta, P, e }) => (60 * eta * P) / e,
});

const SHARE = defineLaw({
  id: 'ceiling-share',
  says: 'Removal rate as a share of what the power could melt.',
  formula: 'Q / Qmax',
  source: BY_DEFINITION,
  inputs: {
    Q: { unit: 'mm3/min', says: 'removal rate' },
    Qmax: { unit: 'mm3/min', says: 'removal ceiling' },
  },
  output: '1',
  evaluate: ({ Q, Qmax }) => Q / Qmax,
});

const ALL_POWER_MELTS = given(1, '1', 'All power melts work: a bound that nothing may exceed', BY_DEFINITION);

/** Energy to warm and melt 1 mm³ of the material, J/mm³. */
export function meltEnergy(material: Material): Figure {
  return apply(MELT_ENERGY, {
    rho: material.densityGPerCm3,
    c: material.heatCapacityJPerGK,
    Tm: material.meltingC,
    Lm: material.latentHeatJPerG,
  });
}

/**
 * Largest removal rate the mean gap power allows, mm³/min. Without `efficiency` all power melts work (the bound that
 * nothing may exceed); 0.183 gives the bound of the point-source cathode model.
 */
export function removalCeiling(material: Material, meanPowerW: Figure, efficiency: Figure = ALL_POWER_MELTS): Figure {
  return apply(CEILING, { eta: efficiency, P: meanPowerW, e: meltEnergy(material) });
}

/** Share of the ceiling a removal rate uses; above 1 is impossible, above about 0.3 deserves a second look. */
export function ceilingShare(removalMm3PerMin: Figure, ceilingMm3PerMin: Figure): Figure {
  return apply(SHARE, { Q: removalMm3PerMin, Qmax: ceilingMm3PerMin });
}
