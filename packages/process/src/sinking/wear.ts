import { apply, BY_DEFINITION, defineLaw, type Figure, given, Z_80 } from '@gapwright/base';
import type { ElectrodeKind, WorkGroup } from './electrode.js';
import { SINKING_PRACTICE } from './sources.js';

/** Volume of electrode per volume of work, %, `rough` = long pulse with the tool positive, `finish` = short pulse. */
type WearRange = readonly [low: number, high: number];
type WearRow = Readonly<Record<WorkGroup, { readonly rough: WearRange; readonly finish: WearRange }>>;

const row = (cells: Readonly<Record<WorkGroup, readonly [number, number, number, number]>>): WearRow =>
  Object.fromEntries(
    Object.entries(cells).map(([work, [a, b, c, d]]) => [work, { rough: [a, b], finish: [c, d] }]),
  ) as unknown as WearRow;

/** Common practice, % of the work volume. */
const WEAR_PERCENT: Readonly<Record<ElectrodeKind, WearRow>> = {
  copper: row({
    steel: [0.5, 2, 10, 30],
    aluminium: [1, 3, 5, 15],
    titanium: [15, 40, 30, 60],
    nickel: [2, 8, 15, 35],
    carbide: [30, 60, 50, 100],
    copper: [10, 30, 30, 60],
  }),
  // Graphite arcs on carbide: the planner should avoid it; the range holds for both ends.
  graphite: row({
    steel: [0.3, 1, 5, 25],
    aluminium: [1, 3, 5, 20],
    titanium: [10, 30, 25, 50],
    nickel: [1, 5, 10, 30],
    carbide: [50, 100, 50, 100],
    copper: [5, 20, 20, 40],
  }),
  'copper-tungsten': row({
    steel: [0.5, 1, 3, 10],
    aluminium: [0.5, 1, 3, 8],
    titanium: [5, 15, 10, 25],
    nickel: [1, 3, 5, 15],
    carbide: [10, 25, 15, 40],
    copper: [5, 15, 10, 30],
  }),
};

/** On-times up to this wear like finishing, µs; carbon has no time to plate the tool. */
const SHORT_PULSE_US = 10;
/** On-times from this on wear like roughing, µs. */
const LONG_PULSE_US = 100;

const BETWEEN = defineLaw({
  id: 'wear-by-on-time',
  says: 'Volumetric wear falls from the short-pulse to the long-pulse figure, straight on log axes between 10 and 100 µs; with the tool negative it stays at the short-pulse figure.',
  formula: 'theta_short^(1 − s) theta_long^s, s from t',
  source: SINKING_PRACTICE,
  inputs: {
    theta_short: { unit: '1', says: 'wear with short pulses' },
    theta_long: { unit: '1', says: 'wear with long pulses, tool positive' },
    t: { unit: 'us', says: 'on-time', valid: [0.5, 2000] },
  },
  output: '1',
  // The practice table is no measurement: 30 published burns of graphite on titanium wore 7 times less.
  scatter: { relative: 0.6, cause: 'wear-pair' },
  evaluate: ({ theta_short, theta_long, t }) => {
    const s = Math.log(t / SHORT_PULSE_US) / Math.log(LONG_PULSE_US / SHORT_PULSE_US);
    const clamped = Math.min(1, Math.max(0, s));
    return theta_short ** (1 - clamped) * theta_long ** clamped;
  },
});

const MASS_RATIO = defineLaw({
  id: 'wear-mass-ratio',
  says: 'Wear by mass is wear by volume times the ratio of densities.',
  formula: 'theta rho_e / rho_w',
  source: BY_DEFINITION,
  inputs: {
    theta: { unit: '1', says: 'wear by volume' },
    rho_e: { unit: 'g/cm3', says: 'density of the electrode' },
    rho_w: { unit: 'g/cm3', says: 'density of the work' },
  },
  output: '1',
  evaluate: ({ theta, rho_e, rho_w }) => (theta * rho_e) / rho_w,
});

const VOLUME_RATIO = defineLaw({
  id: 'wear-volume-ratio',
  says: 'Wear by volume is wear by mass times the inverse ratio of densities.',
  formula: 'm rho_w / rho_e',
  source: BY_DEFINITION,
  inputs: {
    m: { unit: '1', says: 'wear by mass' },
    rho_e: { unit: 'g/cm3', says: 'density of the electrode' },
    rho_w: { unit: 'g/cm3', says: 'density of the work' },
  },
  output: '1',
  evaluate: ({ m, rho_e, rho_w }) => (m * rho_w) / rho_e,
});

const END_WEAR = defineLaw({
  id: 'wear-end-length',
  says: 'A prismatic electrode gets shorter by the volumetric wear times the depth.',
  formula: 'theta D',
  source: BY_DEFINITION,
  inputs: { theta: { unit: '1', says: 'wear by volume' }, D: { unit: 'mm', says: 'depth burned' } },
  output: 'mm',
  evaluate: ({ theta, D }) => theta * D,
});

const CORNER_WEAR = defineLaw({
  id: 'wear-corner-length',
  says: 'Sharp edges wear two to four times as much as the end.',
  formula: 'k theta D',
  source: SINKING_PRACTICE,
  inputs: {
    k: { unit: '1', says: 'edge against end' },
    theta: { unit: '1', says: 'wear by volume' },
    D: { unit: 'mm', says: 'depth burned' },
  },
  output: 'mm',
  evaluate: ({ k, theta, D }) => k * theta * D,
});

const practiceRange = ([low, high]: WearRange, factor: number, says: string, cause: string): Figure =>
  given(factor * Math.sqrt(low * high), '1', says, SINKING_PRACTICE, {
    relative: Math.log(high / low) / (2 * Z_80),
    cause,
  });

const EDGE_FACTOR = practiceRange([2, 4], 1, 'Edge wear against end wear', 'corner-wear:all');

/** The table's range for one electrode, work and kind of pulse, as ratios. */
export function practiceWearRange(
  electrode: ElectrodeKind,
  work: WorkGroup,
  pulse: 'rough' | 'finish',
): readonly [low: number, high: number] {
  const [low, high] = WEAR_PERCENT[electrode][work][pulse];
  return [low / 100, high / 100];
}

/**
 * Volumetric wear (electrode volume per work volume) as a ratio. Low wear needs long pulses and the tool positive; with a
 * negative tool the short-pulse figure holds for every on-time.
 */
export function volumetricWear(
  electrode: ElectrodeKind,
  work: WorkGroup,
  onTimeUs: Figure,
  toolPolarity: 'positive' | 'negative',
): Figure {
  const { rough, finish } = WEAR_PERCENT[electrode][work];
  const cause = `wear:${electrode}-${work}`;
  const short = practiceRange(finish, 0.01, `Wear of ${electrode} on ${work}, short pulses`, cause);
  const long = practiceRange(rough, 0.01, `Wear of ${electrode} on ${work}, long pulses, tool positive`, cause);
  return apply(
    BETWEEN,
    {
      theta_short: short,
      theta_long: toolPolarity === 'positive' ? long : short,
      t: onTimeUs,
    },
    `${electrode}-${work}`,
  );
}

/** Wear by mass from wear by volume. */
export function wearByMass(byVolume: Figure, electrodeGPerCm3: Figure, workGPerCm3: Figure): Figure {
  return apply(MASS_RATIO, { theta: byVolume, rho_e: electrodeGPerCm3, rho_w: workGPerCm3 });
}

/** Wear by volume from wear by mass. */
export function wearByVolume(byMass: Figure, electrodeGPerCm3: Figure, workGPerCm3: Figure): Figure {
  return apply(VOLUME_RATIO, { m: byMass, rho_e: electrodeGPerCm3, rho_w: workGPerCm3 });
}

/** Length a prismatic electrode loses over a depth, mm. */
export function endWear(byVolume: Figure, depthMm: Figure): Figure {
  return apply(END_WEAR, { theta: byVolume, D: depthMm });
}

/** Length a sharp edge loses over a depth, mm. */
export function cornerWear(byVolume: Figure, depthMm: Figure): Figure {
  return apply(CORNER_WEAR, { k: EDGE_FACTOR, theta: byVolume, D: depthMm });
}
