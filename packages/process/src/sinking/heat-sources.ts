import { apply, defineLaw, type Figure, given } from '@gapwright/base';
import { HEAT_SOURCE_ANODE, HEAT_SOURCE_CATHODE, IKAI } from './sources.js';

const ANODE_RADIUS = defineLaw({
  id: 'anode-disc-radius',
  says: 'Radius of the heat disc on the anode; it grows with time.',
  formula: '0.788 t^0.75',
  source: HEAT_SOURCE_ANODE,
  inputs: { t: { unit: 'us', says: 'time since ignition', valid: [1, 1000] } },
  output: 'um',
  evaluate: ({ t }) => 0.788 * t ** 0.75,
});

const EQUIVALENT_RADIUS = defineLaw({
  id: 'equivalent-heat-radius',
  says: 'Radius of one heat source with the same effect as the growing channel; the formula is in SI units.',
  formula: '1e6 × 2.04e-3 I^0.43 (t / 1e6)^0.44',
  source: IKAI,
  inputs: {
    I: { unit: 'A', says: 'pulse current', valid: [1, 100] },
    t: { unit: 'us', says: 'on-time', valid: [1, 1000] },
  },
  output: 'um',
  evaluate: ({ I, t }) => 1e6 * 2.04e-3 * I ** 0.43 * (t * 1e-6) ** 0.44,
});

/** Share of the discharge power that enters the cathode in the point-source model. */
export const CATHODE_SHARE = given(0.183, '1', 'Share of the discharge power into the cathode', HEAT_SOURCE_CATHODE);

/** Share of the discharge power that enters the anode in the expanding-disc model. */
export const ANODE_SHARE = given(0.08, '1', 'Share of the discharge power into the anode', HEAT_SOURCE_ANODE);

/** Radius of the heat disc on the anode, µm. */
export function anodeDiscRadius(onTimeUs: Figure): Figure {
  return apply(ANODE_RADIUS, { t: onTimeUs });
}

/** Equivalent heat-source radius, µm. */
export function equivalentHeatRadius(currentA: Figure, onTimeUs: Figure): Figure {
  return apply(EQUIVALENT_RADIUS, { I: currentA, t: onTimeUs });
}
