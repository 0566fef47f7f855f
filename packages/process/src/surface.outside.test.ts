import { outsideCheck } from '@gapwright/base/testing';
import { describe, it } from 'vitest';
import { microinchFromUm, raFromN, raFromVdi, vdiClassOf, vdiFromRa } from './surface.js';
import { exactly } from './testing/exactly.js';

/** Preferred numbers as printed beside VDI 3400 classes. */
const PRINTED: readonly (readonly [vdi: number, raUm: number])[] = [
  [12, 0.4],
  [15, 0.56],
  [18, 0.8],
  [21, 1.12],
  [24, 1.6],
  [27, 2.24],
  [30, 3.15],
  [33, 4.5],
  [36, 6.3],
  [39, 9],
  [42, 12.5],
  [45, 18],
];

/** Ra and class of eight wire-cut surfaces. */
const MEASURED: readonly (readonly [raUm: number, vdi: number])[] = [
  [0.853, 19],
  [0.838, 18],
  [0.694, 17],
  [0.964, 20],
  [1.343, 23],
  [1.847, 25],
  [2.052, 26],
  [2.281, 27],
];

/** Exact VDI class and microinches of the grades N1 to N12. */
const GRADES: readonly (readonly [vdi: number, microinch: number])[] = [
  [-12.04, 1],
  [-6.02, 2],
  [0, 4],
  [6.02, 8],
  [12.04, 16],
  [18.06, 32],
  [24.08, 63],
  [30.1, 125],
  [35.99, 250],
  [41.94, 500],
  [47.96, 1000],
  [53.98, 2000],
];

describe('surface scales against print', () => {
  it.each(PRINTED)('class %i is printed as Ra %f', (vdi, raUm) => {
    outsideCheck({
      id: `process-vdi-${vdi}`,
      what: `Ra of VDI 3400 class ${vdi}`,
      ours: raFromVdi(exactly(vdi, 'VDI')).value,
      theirs: raUm,
      unit: 'um',
      allowed: 0.03 * raUm,
      why: 'printed tables round to preferred numbers',
      source: 'VDI 3400 comparison table as widely reprinted',
      standing: 'from memory',
    });
  });

  it.each(MEASURED)('Ra %f is published as class %i', (raUm, vdi) => {
    outsideCheck({
      id: `process-vdi-of-${raUm}`,
      what: `VDI class of a wire-cut surface with Ra ${raUm} µm`,
      ours: vdiClassOf(raUm).value!,
      theirs: vdi,
      unit: 'VDI',
      allowed: 0,
      why: 'whole classes',
      source: 'Paturi et al., Machine Learning with Applications 6 (2021) 100099, Table 2',
      standing: 'published',
    });
  });

  it('puts the N grades where they stand on the VDI scale', () => {
    GRADES.forEach(([vdi, microinch], k) => {
      const ra = raFromN(`N${k + 1}`).value!;
      outsideCheck({
        id: `process-n${k + 1}-vdi`,
        what: `VDI class of roughness grade N${k + 1}`,
        ours: vdiFromRa(ra).value,
        theirs: vdi,
        unit: 'VDI',
        allowed: 0.006,
        why: 'two decimals',
        source: 'ISO 1302 grades on the VDI 3400 scale',
        standing: 'from memory',
      });
      outsideCheck({
        id: `process-n${k + 1}-uin`,
        what: `Microinches of roughness grade N${k + 1}`,
        ours: microinchFromUm(ra).value,
        theirs: microinch,
        unit: 'uin',
        allowed: 0.02 * microinch,
        why: 'both scales are rounded to preferred numbers',
        source: 'ISO 1302, table of grades',
        standing: 'from memory',
      });
    });
  });
});
