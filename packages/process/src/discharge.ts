import { apply, BY_DEFINITION, defineLaw, type Figure } from '@gapwright/base';
import type { Material } from './shop-book.js';
import { CRATER_DATA, CRATER_SCALING, HEAT_BALANCE } from './sources.js';

const PULSE_ENERGY = defineLaw({
  id: 'pulse-energy',
  says: 'Energy of a rectangular pulse.',
  formula: 'V I t / 1000',
  source: BY_DEFINITION,
  inputs: {
    V: { unit: 'V', says: 'burning voltage' },
    I: { unit: 'A', says: 'current' },
    t: { unit: 'us', says: 'on-time' },
  },
  output: 'mJ',
  evaluate: ({ V, I, t }) => (V * I * t) / 1000,
});

const MEAN_CURRENT = defineLaw({
  id: 'mean-current-triangular',
  says: 'Mean current of triangular pulses.',
  formula: 'Ip t f / 2',
  source: BY_DEFINITION,
  inputs: {
    Ip: { unit: 'A', says: 'peak current' },
    t: { unit: 'us', says: 'on-time' },
    f: { unit: 'kHz', says: 'pulses' },
  },
  output: 'A',
  evaluate: ({ Ip, t, f }) => (Ip * t * f * 1e-3) / 2,
});

const MEAN_POWER = defineLaw({
  id: 'mean-gap-power',
  says: 'Mean power in the gap.',
  formula: 'V I',
  source: BY_DEFINITION,
  inputs: { V: { unit: 'V', says: 'burning voltage' }, I: { unit: 'A', says: 'mean current' } },
  output: 'W',
  evaluate: ({ V, I }) => V * I,
});

const THERMAL_LENGTH = defineLaw({
  id: 'thermal-length',
  says: 'How far heat spreads in the metal during the pulse; recast is usually a tenth to a half of it.',
  formula: '2 sqrt(k t / (rho c))',
  source: HEAT_BALANCE,
  inputs: {
    k: { unit: 'W/mK', says: 'heat conductivity' },
    rho: { unit: 'g/cm3', says: 'density' },
    c: { unit: 'J/gK', says: 'heat capacity' },
    t: { unit: 'us', says: 'on-time' },
  },
  output: 'um',
  // k [W/mK] / (rho c) [g/cm³ · J/gK = 1e6 J/m³K] in m²/s; with t in µs the root is in µm × sqrt(1e-12 · 1e12).
  evaluate: ({ k, rho, c, t }) => 2 * Math.sqrt((k / (rho * c)) * t),
});

const CRATER_VOLUME = defineLaw({
  id: 'crater-volume-steel',
  says: 'Volume of a single wire-cutting crater in steel, fitted to measured craters; single craters spread by 14 to 33 %.',
  formula: '42.01 Ip^1.0986',
  source: CRATER_DATA,
  inputs: { Ip: { unit: 'A', says: 'peak current', valid: [30, 425] } },
  output: 'um3',
  scatter: { relative: 0.41, cause: 'crater-fit' },
  evaluate: ({ Ip }) => 42.01 * Ip ** 1.0986,
});

const CRATER_AREA = defineLaw({
  id: 'crater-area-steel',
  says: 'Area of a single wire-cutting crater in steel, fitted to measured craters.',
  formula: '70.84 Ip^0.7738',
  source: CRATER_DATA,
  inputs: { Ip: { unit: 'A', says: 'peak current', valid: [30, 425] } },
  output: 'um2',
  scatter: { relative: 0.25, cause: 'crater-fit' },
  evaluate: ({ Ip }) => 70.84 * Ip ** 0.7738,
});

const RA_AT_ENERGY = defineLaw({
  id: 'ra-at-energy',
  says: 'From a known surface to another pulse energy: Ra goes with the cube root.',
  formula: 'Ra0 (E / E0)^(1/3)',
  source: CRATER_SCALING,
  inputs: {
    Ra0: { unit: 'um', says: 'known Ra' },
    E0: { unit: 'mJ', says: 'its pulse energy' },
    E: { unit: 'mJ', says: 'new pulse energy' },
  },
  output: 'um',
  scatter: { relative: 0.15, cause: 'ra-energy-exponent' },
  evaluate: ({ Ra0, E0, E }) => Ra0 * Math.cbrt(E / E0),
});

/** Energy of a rectangular pulse, mJ. */
export function pulseEnergy(voltageV: Figure, currentA: Figure, onTimeUs: Figure): Figure {
  return apply(PULSE_ENERGY, { V: voltageV, I: currentA, t: onTimeUs });
}

/** Mean current of triangular pulses (wire cutting), A. */
export function meanTriangularCurrent(peakA: Figure, onTimeUs: Figure, pulsesKhz: Figure): Figure {
  return apply(MEAN_CURRENT, { Ip: peakA, t: onTimeUs, f: pulsesKhz });
}

/** Mean power in the gap, W. */
export function meanGapPower(voltageV: Figure, meanCurrentA: Figure): Figure {
  return apply(MEAN_POWER, { V: voltageV, I: meanCurrentA });
}

/** Depth heat reaches during a pulse, µm. */
export function thermalLength(material: Material, onTimeUs: Figure): Figure {
  return apply(THERMAL_LENGTH, {
    k: material.conductivityWPerMK,
    rho: material.densityGPerCm3,
    c: material.heatCapacityJPerGK,
    t: onTimeUs,
  });
}

/** Volume of a single crater in steel, µm³. */
export function craterVolume(peakA: Figure): Figure {
  return apply(CRATER_VOLUME, { Ip: peakA });
}

/** Area of a single crater in steel, µm². */
export function craterArea(peakA: Figure): Figure {
  return apply(CRATER_AREA, { Ip: peakA });
}

/** Ra at another pulse energy, µm. */
export function raAtEnergy(knownRaUm: Figure, knownEnergyMj: Figure, energyMj: Figure): Figure {
  return apply(RA_AT_ENERGY, { Ra0: knownRaUm, E0: knownEnergyMj, E: energyMj });
}
