import { defineSource } from '@gapwright/base';

/** The program's own sources for process laws. Values in a shop book name the book's sources instead. */

export const VDI_3400 = defineSource({
  id: 'vdi-3400',
  title: 'VDI 3400, spark-erosion surface classes',
  standing: 'from memory',
  where: 'class = 20 log10(10 Ra)',
});

export const ISO_1302 = defineSource({
  id: 'iso-1302',
  title: 'ISO 1302 (older editions), roughness grades N1 to N12',
  standing: 'from memory',
  where: 'withdrawn in favour of ISO 21920-1; still on drawings',
});

export const ISO_286 = defineSource({
  id: 'iso-286-1',
  title: 'ISO 286-1, standard tolerance grades',
  standing: 'published',
  where: 'table of standard tolerances, sizes up to 315 mm',
});

export const ISO_286_MEMORY = defineSource({
  id: 'iso-286-1-above-315',
  title: 'ISO 286-1, standard tolerance grades above 315 mm',
  standing: 'from memory',
});

export const ISO_2768 = defineSource({
  id: 'iso-2768-1',
  title: 'ISO 2768-1, general tolerances for linear dimensions',
  standing: 'from memory',
});

export const ELECTRODE_THESIS = defineSource({
  id: 'wire-electrode-thesis',
  title: 'Doctoral thesis on wire electrodes, steel X210CrW12, height 32.7 mm',
  standing: 'published',
  where: 'thin wire: Joule heat limits the rate, which goes with the square root of the diameter up to 0.25 mm',
});

export const STRING_MODEL = defineSource({
  id: 'string-model',
  title: 'Elementary statics of a string under uniform load',
  standing: 'computed',
});

export const HEAT_BALANCE = defineSource({
  id: 'heat-balance',
  title: 'Heat balance: warming and melting the removed metal',
  standing: 'computed',
});

export const CRATER_SCALING = defineSource({
  id: 'crater-scaling',
  title: 'Crater depth and diameter go about with the cube root of the pulse energy',
  standing: 'from memory',
});

export const GAP_DIAMETER_PRACTICE = defineSource({
  id: 'gap-by-wire-practice',
  title: 'Usual gaps by wire diameter',
  standing: 'common practice',
  where: '0.10/0.015, 0.15/0.020, 0.20/0.025, 0.25/0.030, 0.30/0.035 mm; a design guide prints 0.025 to 0.030',
});

export const WIRE_PRACTICE = defineSource({
  id: 'wire-practice',
  title: 'Common practice in wire cutting',
  standing: 'common practice',
});

export const DRILL_PRACTICE = defineSource({
  id: 'drill-practice',
  title: 'Common practice in small-hole drilling',
  standing: 'common practice',
});

export const HEIGHT_ACCURACY_ESTIMATE = defineSource({
  id: 'height-accuracy-estimate',
  title: 'Estimate of this program: accuracy worsens with the square root of height above the reference height',
  standing: 'computed',
  where: 'not measured; replace by the first measured parts',
});

export const RA_MELTING_ESTIMATE = defineSource({
  id: 'ra-melting-estimate',
  title: 'Estimate of this program: crater volume goes inversely with the energy to melt',
  standing: 'computed',
  where: 'follows from crater scaling and heat balance; not measured',
});

export const WELLER = defineSource({
  id: 'weller-1984',
  title: 'Weller, Nontraditional Machining Processes (1984)',
  standing: 'published',
  where: 'quoted as eq. (2) in Izwan et al., Procedia Manufacturing 5 (2016) 658-668',
});

export const IZWAN = defineSource({
  id: 'izwan-2016',
  title: 'Izwan et al., Procedia Manufacturing 5 (2016) 658-668',
  standing: 'published',
  where: 'charge model; R2 = 0.53, error about ±55 %',
});

export const KALPAKJIAN = defineSource({
  id: 'kalpakjian',
  title: 'Kalpakjian and Schmid, Manufacturing Processes for Engineering Materials',
  standing: 'from memory',
  where: 'chapter on advanced machining',
});

export const GHOSH_MALLIK = defineSource({
  id: 'ghosh-mallik',
  title: 'Ghosh and Mallik, Manufacturing Science',
  standing: 'from memory',
  where: 'relaxation circuit',
});

export const CRATER_DATA = defineSource({
  id: 'wire-single-craters',
  title: 'Gonzalez-Sanchez, single wire-cutting craters on steel (open data set, 2023)',
  standing: 'published',
  where: 'geduardo/WEDM-Learning-Environment, MIT licence; power laws fitted to its nine current levels',
});
