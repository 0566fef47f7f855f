import { apply, BY_DEFINITION, defineLaw, type Figure } from '@gapwright/base';
import type { ShopRules } from './shop-book.js';
import { WIRE_PRACTICE } from './sources.js';

const MASS = defineLaw({
  id: 'slug-mass',
  says: 'Mass of a prism: area times height times density.',
  formula: 'A H rho / 1000',
  source: BY_DEFINITION,
  inputs: {
    A: { unit: 'mm2', says: 'area seen from above' },
    H: { unit: 'mm', says: 'height' },
    rho: { unit: 'g/cm3', says: 'density' },
  },
  output: 'g',
  evaluate: ({ A, H, rho }) => (A * H * rho) / 1000,
});

const TAB = defineLaw({
  id: 'tab-length',
  says: 'Tab that holds the slug: a base length and some more per kilogram, within the shop’s limits.',
  formula: 'min(max(t0 + k m / 1000, tmin), tmax)',
  source: WIRE_PRACTICE,
  inputs: {
    m: { unit: 'g', says: 'mass held' },
    t0: { unit: 'mm', says: 'tab of a weightless slug' },
    k: { unit: 'mm/kg', says: 'more per kilogram' },
    tmin: { unit: 'mm', says: 'shortest tab' },
    tmax: { unit: 'mm', says: 'longest tab' },
  },
  output: 'mm',
  evaluate: ({ m, t0, k, tmin, tmax }) => Math.min(Math.max(t0 + (k * m) / 1000, tmin), tmax),
});

const NO_CORE = defineLaw({
  id: 'no-core-burn-time',
  says: 'Burning a slug whole: its area is swept in strips one kerf wide.',
  formula: 'A / (b v)',
  source: BY_DEFINITION,
  inputs: {
    A: { unit: 'mm2', says: 'area to burn away' },
    b: { unit: 'mm', says: 'kerf' },
    v: { unit: 'mm/min', says: 'rough feed' },
  },
  output: 'min',
  evaluate: ({ A, b, v }) => A / (b * v),
});

/** Mass of a slug or part, g. */
export function slugMass(areaMm2: Figure, heightMm: Figure, densityGPerCm3: Figure): Figure {
  return apply(MASS, { A: areaMm2, H: heightMm, rho: densityGPerCm3 });
}

/** Tab length for a piece of this mass by the shop's rule, mm. */
export function tabLength(massG: Figure, rules: ShopRules): Figure {
  return apply(TAB, {
    m: massG,
    t0: rules.tabBaseMm,
    k: rules.tabPerKgMm,
    tmin: rules.tabMinMm,
    tmax: rules.tabMaxMm,
  });
}

/** Time to burn a small slug away instead of freeing it, min. */
export function noCoreBurnTime(areaMm2: Figure, kerfMm: Figure, roughFeedMmPerMin: Figure): Figure {
  return apply(NO_CORE, { A: areaMm2, b: kerfMm, v: roughFeedMmPerMin });
}

/** How a freed piece is handled by mass: the shop's limits on its median mass. */
export function slugHandling(massG: Figure, rules: ShopRules): 'falls free' | 'tab' | 'tab and support' {
  if (massG.value <= rules.freeFallMassG.value) return 'falls free';
  return massG.value < rules.supportMassG.value ? 'tab' : 'tab and support';
}
