import { outsideCheck } from '@gapwright/base/testing';
import { describe, expect, it } from 'vitest';
import { meanGapPower, meanTriangularCurrent, pulseEnergy, thermalLength } from './discharge.js';
import { ceilingShare, meltEnergy, removalCeiling } from './energy.js';
import { findMaterial } from './find.js';
import { CATHODE_SHARE } from './sinking/heat-sources.js';
import { meltShare } from './sinking/sinking-laws.js';
import { kalpakjianRemoval } from './teaching-laws.js';
import { exactly } from './testing/exactly.js';
import { readCsv } from './testing/read-csv.js';
import { startingBook } from './testing/starting-book.js';

const book = startingBook();
const material = (id: string) => findMaterial(book, id)!;

/** Ceiling per watt with the cathode share 0.183, mm³/min. */
const CATHODE_CEILING: Readonly<Record<string, number>> = {
  C1045: 1.47,
  D2: 1.58,
  H13: 1.56,
  '316L': 1.46,
  '17-4PH': 1.56,
  'Ti-6Al-4V': 2.04,
  'CP-Ti': 1.95,
  Inconel718: 1.71,
  CoCrMo: 1.45,
  '6061': 4.24,
  Cu: 2.0,
  brass: 2.55,
  BeCu: 2.27,
  W: 0.88,
  Mo: 1.15,
  'WC-10Co': 0.83,
  graphite: 0.09,
};

/** Energy to melt by handbook values, J/mm³, and ceiling per watt, mm³/min. */
const MELTING: readonly (readonly [id: string, jPerMm3: number, perWatt: number])[] = [
  ['C1045', 7.48, 8.02],
  ['D2', 6.96, 8.62],
  ['H13', 7.04, 8.52],
  ['316L', 7.53, 7.97],
  ['17-4PH', 7.04, 8.52],
  ['Ti-6Al-4V', 5.39, 11.1],
  ['CP-Ti', 5.62, 10.7],
  ['Inconel718', 6.41, 9.36],
  ['CoCrMo', 7.56, 7.94],
  ['6061', 2.59, 23.2],
  ['Cu', 5.5, 10.9],
  ['brass', 4.3, 13.9],
  ['BeCu', 4.83, 12.4],
  ['W', 12.44, 4.82],
  ['Mo', 9.59, 6.26],
  ['WC-10Co', 13.25, 4.53],
  ['graphite', 118.6, 0.51],
];

describe('heat balance', () => {
  it.each(MELTING)('%s needs %f J/mm³', (id, jPerMm3, perWatt) => {
    outsideCheck({
      id: `process-melt-${id}`,
      what: `Energy to warm and melt 1 mm³ of ${id}`,
      ours: meltEnergy(material(id)).value,
      theirs: jPerMm3,
      unit: 'J/mm3',
      allowed: jPerMm3 > 100 ? 0.06 : 0.0051,
      why: 'worked numbers have three to four digits',
      source: 'heat balance with handbook values, worked by hand',
      standing: 'from memory',
    });
    outsideCheck({
      id: `process-ceiling-${id}`,
      what: `Most that 1 W can melt of ${id}`,
      ours: removalCeiling(material(id), exactly(1, 'W')).value,
      theirs: perWatt,
      unit: 'mm3/min',
      allowed: perWatt < 10 ? 0.0056 : 0.06,
      why: 'worked numbers have two to three digits',
      source: 'heat balance with handbook values, worked by hand',
      standing: 'from memory',
    });
  });

  it.each(Object.entries(CATHODE_CEILING))('%s with the cathode share', (id, perWatt) => {
    outsideCheck({
      id: `process-cathode-ceiling-${id}`,
      what: `Most that 1 W at the cathode share can melt of ${id}`,
      ours: removalCeiling(material(id), exactly(1, 'W'), CATHODE_SHARE).value,
      theirs: perWatt,
      unit: 'mm3/min',
      allowed: 0.0051,
      why: 'two decimals',
      source: 'DiBitonto et al. 1989, share 0.183; handbook values, worked by hand',
      standing: 'from memory',
    });
  });

  it('gives the ceiling per ampere at 25 V and the trade figure under it', () => {
    const ceiling = removalCeiling(material('steel'), exactly(25, 'W')).value;
    outsideCheck({
      id: 'process-specific-charge',
      what: 'Most per ampere of mean current at 25 V in steel',
      ours: ceiling,
      theirs: 200,
      unit: 'mm3/min',
      allowed: 1,
      why: 'rounded to 200',
      source: 'heat balance, worked by hand',
      standing: 'from memory',
    });
    const { value } = meltShare(exactly(60, 'mJ'), 'C1045');
    outsideCheck({
      id: 'process-specific-charge-trade',
      what: 'Roughing rate in steel per ampere of mean current',
      ours: value!.value * ceiling,
      theirs: 7,
      unit: 'mm3/min',
      allowed: 3,
      why: 'the trade says 4 to 10',
      source: 'trade figure',
      standing: 'common practice',
    });
  });

  it('gives the worked sinking ceiling and puts the textbook rate under it', () => {
    const power = exactly(25 * 25 * 0.5, 'W');
    const ceiling = removalCeiling(material('steel'), power, exactly(0.183, '1'));
    outsideCheck({
      id: 'process-ceiling-sinking',
      what: '25 V, 25 A, half duty in steel, cathode share 0.183',
      ours: ceiling.value,
      theirs: 459,
      unit: 'mm3/min',
      allowed: 0.6,
      why: 'three digits',
      source: 'DiBitonto et al., J. Appl. Phys. 66 (1989) 4095-4103: cathode share; handbook values of iron',
      standing: 'from memory',
    });
    const textbook = kalpakjianRemoval(exactly(25, 'A'), exactly(1500, 'degC'));
    outsideCheck({
      id: 'process-ceiling-textbook-share',
      what: 'Share of that ceiling the textbook rate uses',
      ours: ceilingShare(textbook, ceiling).value,
      theirs: 0.27,
      unit: '1',
      allowed: 0.005,
      why: 'two digits',
      source: 'Kalpakjian, removal law at 25 A',
      standing: 'from memory',
    });
  });

  it('follows the published wire-break set-up from pulses to the share of the ceiling', () => {
    const where = 'Sato et al., Wire-break prevention on wire electrical discharge machining (2013)';
    const current = meanTriangularCurrent(exactly(700, 'A'), exactly(1.4, 'us'), exactly(60, 'kHz'));
    const power = meanGapPower(exactly(20, 'V'), current);
    const ceiling = removalCeiling(material('steel'), power);
    const rows: readonly (readonly [string, string, number, number, string, number])[] = [
      ['current', 'Mean current of 700 A, 1.4 µs, 60 kHz', current.value, 29.4, 'A', 0.05],
      ['power', 'Mean gap power', power.value, 588, 'W', 0.5],
      ['ceiling', 'Ceiling in steel', ceiling.value, 4716, 'mm3/min', 3],
      [
        'share',
        'Share used by 300 mm²/min and kerf 0.36',
        ceilingShare(exactly(108, 'mm3/min'), ceiling).value,
        0.023,
        '1',
        0.0005,
      ],
    ];
    for (const [id, what, ours, theirs, unit, allowed] of rows) {
      const why = 'digits of the worked number';
      outsideCheck({
        id: `process-wire-${id}`,
        what,
        ours,
        theirs,
        unit,
        allowed,
        why,
        source: where,
        standing: 'published',
      });
    }
  });

  it('keeps 30 published sinking burns under the ceiling', () => {
    // MRR in g/min; titanium stands in for its alloy with 13 % Zr and 13 % Nb, so mass is compared, not volume.
    const titanium = material('CP-Ti');
    const shares = readCsv('sinker-ti13zr13nb-graphite.csv').map((row) => {
      const duty = row.pulse_on_us! / (row.pulse_on_us! + row.pulse_off_us!);
      const power = exactly(row.voltage_V! * row.current_A! * duty, 'W');
      const removal = exactly((row.mrr_g_min! * 1000) / titanium.densityGPerCm3.value, 'mm3/min');
      return ceilingShare(removal, removalCeiling(titanium, power)).value;
    });
    expect(shares).toHaveLength(30);
    for (const [id, what, ours, theirs] of [
      ['most', 'Largest share of the ceiling in 30 burns', Math.max(...shares), 0.11],
      ['least', 'Smallest share of the ceiling in 30 burns', Math.min(...shares), 0.003],
    ] as const) {
      outsideCheck({
        id: `process-ti-burns-${id}`,
        what,
        ours,
        theirs,
        unit: '1',
        allowed: 0.1 * theirs + 0.0005,
        why: 'heat data of pure titanium; input power of V × I × duty',
        source: 'Soundhar et al., Data in Brief 23 (2019) 103671, Table 5',
        standing: 'published',
      });
    }
  });
});

describe('single discharges', () => {
  it.each([
    [2.34, 5.6, 0.3276],
    [10, 32, 8],
    [25, 100, 62.5],
    [68, 560, 952],
  ])('%f A, %f µs at 25 V', (current, onTime, mj) => {
    outsideCheck({
      id: `process-pulse-${current}`,
      what: `Energy of a pulse of ${current} A and ${onTime} µs at 25 V`,
      ours: pulseEnergy(exactly(25, 'V'), exactly(current, 'A'), exactly(onTime, 'us')).value,
      theirs: mj,
      unit: 'mJ',
      allowed: 1e-9,
      why: 'a product of three numbers',
      source: 'conditions of DiBitonto et al., J. Appl. Phys. 66 (1989) 4095-4103',
      standing: 'from memory',
    });
  });

  it.each([
    ['C1045', 1, 7.1],
    ['C1045', 3, 12.2],
    ['C1045', 100, 70.6],
    ['D2', 100, 47.5],
    ['Ti-6Al-4V', 1, 3.4],
    ['Ti-6Al-4V', 100, 33.9],
  ] as const)('heat spreads in %s during %d µs', (id, onTime, um) => {
    outsideCheck({
      id: `process-thermal-${id}-${onTime}`,
      what: `Thermal length in ${id} during ${onTime} µs`,
      ours: thermalLength(material(id), exactly(onTime, 'us')).value,
      theirs: um,
      unit: 'um',
      allowed: 0.06,
      why: 'one decimal',
      source: 'heat conduction with handbook values, worked by hand',
      standing: 'from memory',
    });
  });
});
