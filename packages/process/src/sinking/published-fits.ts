import { defineLaw, type Figure, type Result } from '@gapwright/base';
import { applyWithin } from '../validity.js';
import { IN825_DATA, TI13_DATA } from './sources.js';

// Power laws fitted to published burns. They hold for one material, electrode and machine each; exponents differ by
// material and range, which is why they are refused far outside the burns they were fitted to.

const TI13_RA = defineLaw({
  id: 'published-ra-ti13zr13nb',
  says: 'Ra of sintered Ti-13Zr-13Nb sunk with graphite in kerosene, fitted to 30 burns; six repeats at one setting spread from 10.3 to 16.2 µm.',
  formula: '0.5283 I^0.3495 t^1.0782',
  source: TI13_DATA,
  inputs: {
    I: { unit: 'A', says: 'current', valid: [8, 16] },
    t: { unit: 'us', says: 'on-time', valid: [6, 10] },
  },
  output: 'um',
  scatter: { relative: 0.18, cause: 'published-fit' },
  evaluate: ({ I, t }) => 0.5283 * I ** 0.3495 * t ** 1.0782,
});

const IN825_RA = defineLaw({
  id: 'published-ra-in825',
  says: 'Ra of Inconel 825, fitted to 15 burns.',
  formula: '0.5853 I^0.1504 t^0.4537',
  source: IN825_DATA,
  inputs: {
    I: { unit: 'A', says: 'current', valid: [1, 5] },
    t: { unit: 'us', says: 'on-time', valid: [20, 80] },
  },
  output: 'um',
  scatter: { relative: 0.1, cause: 'published-fit' },
  evaluate: ({ I, t }) => 0.5853 * I ** 0.1504 * t ** 0.4537,
});

const IN825_RATE = defineLaw({
  id: 'published-removal-in825',
  says: 'Removal rate in Inconel 825, fitted to 15 burns.',
  formula: '2.4541 I^1.0621 t^0.1460 toff^−0.5253',
  source: IN825_DATA,
  inputs: {
    I: { unit: 'A', says: 'current', valid: [1, 5] },
    t: { unit: 'us', says: 'on-time', valid: [20, 80] },
    toff: { unit: 'us', says: 'off-time', valid: [5, 15] },
  },
  output: 'mm3/min',
  scatter: { relative: 0.2, cause: 'published-fit' },
  evaluate: ({ I, t, toff }) => 2.4541 * I ** 1.0621 * t ** 0.146 * toff ** -0.5253,
});

/** Ra of sintered Ti-13Zr-13Nb, µm; refused beyond twice the range of the 30 burns. */
export function publishedRaTi13(currentA: Figure, onTimeUs: Figure): Result<Figure> {
  return applyWithin(TI13_RA, { I: currentA, t: onTimeUs });
}

/** Ra of Inconel 825, µm; refused beyond twice the range of the 15 burns. */
export function publishedRaIn825(currentA: Figure, onTimeUs: Figure): Result<Figure> {
  return applyWithin(IN825_RA, { I: currentA, t: onTimeUs });
}

/** Removal rate in Inconel 825, mm³/min; refused beyond twice the range of the 15 burns. */
export function publishedRemovalIn825(currentA: Figure, onTimeUs: Figure, offTimeUs: Figure): Result<Figure> {
  return applyWithin(IN825_RATE, { I: currentA, t: onTimeUs, toff: offTimeUs });
}
