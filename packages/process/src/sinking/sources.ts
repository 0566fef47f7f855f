import { defineSource } from '@gapwright/base';

export const SINKING_PRACTICE = defineSource({
  id: 'sinking-practice',
  title: 'Common practice in die sinking',
  standing: 'common practice',
});

export const CHARGE_RATE_PRACTICE = defineSource({
  id: 'specific-charge-practice',
  title: 'Trade figure: 4 to 10 mm³/min of steel per ampere of mean current when roughing',
  standing: 'common practice',
  where: 'geometric mean 6.3; at 25 V that is 3.2 % of what the power could melt',
});

export const SINKING_RA_ESTIMATE = defineSource({
  id: 'sinking-ra-estimate',
  title: 'Estimate of this program: cube-root law placed between published burns and common practice',
  standing: 'computed',
  where: 'Inconel 825 at 3.8 mJ: 3.7 µm; rough practice 6 to 12 µm at some hundred mJ; exponent from crater scaling',
});

export const OVERCUT_FORM = defineSource({
  id: 'overcut-form',
  title: 'Overcut g = g0 + k E^(1/3), growing with open voltage and pulse energy',
  standing: 'from memory',
  where: 'constants placed on usual gaps by finish: Ra 0.4/0.015, 1.6/0.033, 3.2/0.06, 6.3/0.125, 12.5/0.25 mm',
});

export const MINKOWSKI = defineSource({
  id: 'orbit-minkowski',
  title: 'Offset geometry: the cavity is the electrode grown by the orbit and the gap',
  standing: 'computed',
});

export const EROSION_INDEX_SOURCE = defineSource({
  id: 'erosion-resistance-index',
  title: 'Erosion resistance index C = k c Tm², Reynaerts, Heeren, Van Brussel, Sensors and Actuators A 60 (1997)',
  standing: 'from memory',
});

export const TI13_DATA = defineSource({
  id: 'soundhar-2019',
  title: 'Soundhar, Zubar, Sultan, Kandasamy, Data in Brief 23 (2019) 103671, Table 5 (CC BY 4.0)',
  standing: 'published',
  where: 'Ti-13Zr-13Nb, graphite, kerosene, 30 runs; power law fitted here',
});

export const IN825_DATA = defineSource({
  id: 'in825-box-behnken',
  title: 'Inconel 825, Box-Behnken design of 15 runs in a public repository (MIT, 2025)',
  standing: 'published',
  where: 'source article not named there; power laws fitted here',
});

export const HEAT_SOURCE_CATHODE = defineSource({
  id: 'dibitonto-1989',
  title: 'DiBitonto, Eubank, Patel, Barrufet, J. Appl. Phys. 66 (1989) 4095-4103',
  standing: 'from memory',
  where: 'point heat source at the cathode, constant share 0.183',
});

export const HEAT_SOURCE_ANODE = defineSource({
  id: 'patel-1989',
  title: 'Patel, Barrufet, Eubank, DiBitonto, J. Appl. Phys. 66 (1989) 4104-4111',
  standing: 'from memory',
  where: 'expanding Gaussian disc at the anode, share 0.08, radius 0.788 t^0.75 µm',
});

export const IKAI = defineSource({
  id: 'ikai-hashiguchi',
  title: 'Ikai and Hashiguchi, equivalent heat-source radius',
  standing: 'from memory',
  where: 'r = 2.04e-3 I^0.43 t^0.44 in SI units; papers often mislabel it as µm with t in µs',
});

export const RECAST_PRACTICE = defineSource({
  id: 'recast-practice',
  title: 'Common practice: recast is 0.1 to 0.5 of the thermal length',
  standing: 'common practice',
});
