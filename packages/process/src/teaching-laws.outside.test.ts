import type { Figure } from '@gapwright/base';
import { outsideCheck } from '@gapwright/base/testing';
import { describe, expect, it } from 'vitest';
import {
  chargeModelRemoval,
  kalpakjianRemoval,
  relaxationCircuit,
  wellerRemoval,
  wellerRemovalInch,
  wireRemoval,
} from './teaching-laws.js';
import { exactly } from './testing/exactly.js';
import { kerfWidth } from './wire-geometry.js';

const amp = (value: number): Figure => exactly(value, 'A');
const celsius = (value: number): Figure => exactly(value, 'degC');
const fahrenheit = (value: number): Figure => exactly(value, 'degF');

function check(
  id: string,
  what: string,
  ours: number,
  theirs: number,
  unit: string,
  source: string,
  standing: 'published' | 'from memory' = 'from memory',
): void {
  outsideCheck({
    id: `process-${id}`,
    what,
    ours,
    theirs,
    unit,
    allowed: 1e-4 * Math.abs(theirs),
    why: 'the worked number has four to five digits',
    source,
    standing,
  });
}

const GROOVER =
  'Groover, Fundamentals of Modern Manufacturing, chapter on nontraditional machining, examples and problems';

describe('worked examples of the teaching laws', () => {
  it('W1 to W5: removal rate', () => {
    check('weller-1', '1100 °C, 25 A', wellerRemoval(amp(25), celsius(1100)).value, 3.0144, 'mm3/s', GROOVER);
    check('weller-2', 'tungsten, 20 A', wellerRemoval(amp(20), celsius(3410)).value, 0.59967, 'mm3/s', GROOVER);
    check('weller-3', 'tin, 20 A', wellerRemoval(amp(20), celsius(232)).value, 16.355, 'mm3/s', GROOVER);
    check(
      'weller-4',
      'tungsten, °F',
      wellerRemovalInch(amp(20), fahrenheit(6170)).value,
      0.0022123,
      'in3/min',
      GROOVER,
    );
    check('weller-5', 'zinc, °F', wellerRemovalInch(amp(20), fahrenheit(787)).value, 0.027851, 'in3/min', GROOVER);
  });

  it('W6 and W7: feed of a wire', () => {
    const steel = wellerRemoval(amp(10), celsius(1500)).value * 60;
    const kerf = kerfWidth(exactly(0.125, 'mm'), exactly(0.02, 'mm')).value;
    check('weller-6', '7 mm steel, 0.125 wire, overcut 0.02: feed', steel / (kerf * 7), 42.77, 'mm/min', GROOVER);
    const aluminium = wellerRemovalInch(amp(7), fahrenheit(1220)).value;
    check('weller-7', '0.75 in aluminium, kerf 0.007 in: feed', aluminium / (0.007 * 0.75), 1.0829, 'in/min', GROOVER);
  });

  it('says "order of magnitude" on the law itself', () => {
    for (const figure of [wellerRemoval(amp(25), celsius(1100)), kalpakjianRemoval(amp(25), celsius(1500))]) {
      expect(figure.reason.kind === 'law' && figure.reason.law.says).toContain('Order of magnitude');
    }
  });

  it('the two textbook constants are one law', () => {
    const ratio = kalpakjianRemoval(amp(25), celsius(1500)).value / (60 * wellerRemoval(amp(25), celsius(1500)).value);
    check('kalpakjian-weller', 'ratio of the two textbook removal laws', ratio, 1.00402, '1', 'Kalpakjian; Weller');
    const rows: readonly (readonly [string, number, number, number])[] = [
      ['steel', 25, 1500, 124.0],
      ['aluminium', 25, 660, 340.38],
      ['titanium', 10, 1668, 43.53],
      ['1100 °C alloy', 25, 1100, 181.59],
    ];
    for (const [name, current, melting, theirs] of rows) {
      const ours = kalpakjianRemoval(amp(current), celsius(melting)).value;
      check(`kalpakjian-${name}`, `${name}, ${current} A`, ours, theirs, 'mm3/min', 'Kalpakjian, quoted in El-Hofy');
    }
  });

  it('charge model', () => {
    const izwan = 'Izwan et al., Procedia Manufacturing 5 (2016) 658-668';
    const charge = exactly(980, 'A*us');
    const ours = chargeModelRemoval(charge, celsius(1520)).value;
    outsideCheck({
      id: 'process-charge-model',
      what: '35 A × 28 µs in steel',
      ours,
      theirs: 0.1869,
      unit: 'mm3/s',
      allowed: 0.0001,
      why: 'four digits',
      source: izwan,
      standing: 'published',
    });
    const overPrediction = wellerRemoval(amp(35), celsius(1520)).value / ours;
    outsideCheck({
      id: 'process-weller-over-predicts',
      what: 'How many times the teaching law exceeds the charge model at 35 A, 28 µs',
      ours: overPrediction,
      theirs: 15,
      unit: '1',
      allowed: 1,
      why: 'stated as about fifteen',
      source: izwan,
      standing: 'published',
    });
  });

  it('wire formula', () => {
    const book = 'Kalpakjian, wire formula and typical area rates';
    const kerf = kerfWidth(exactly(0.25, 'mm'), exactly(0.03, 'mm'));
    const removal = wireRemoval(exactly(6, 'mm/min'), exactly(50, 'mm'), kerf);
    check('kalpakjian-wire', '6 mm/min, 50 mm, kerf 0.31', removal.value, 93, 'mm3/min', book);
    const areaRate = (feedMmPerH: number, heightMm: number): number =>
      wireRemoval(exactly(feedMmPerH / 60, 'mm/min'), exactly(heightMm, 'mm'), kerf).value / kerf.value;
    check('kalpakjian-d2', '360 mm/h on 50 mm', areaRate(360, 50), 18_000 / 60, 'mm2/min', book);
    check('kalpakjian-al', '300 mm/h on 150 mm', areaRate(300, 150), 45_000 / 60, 'mm2/min', book);
  });

  it('relaxation circuit', () => {
    const rc = relaxationCircuit({
      resistanceOhm: exactly(50, 'ohm'),
      capacitanceUf: exactly(10, 'uF'),
      supplyV: exactly(200, 'V'),
      breakdownV: exactly(150, 'V'),
    });
    const book = 'Ghosh and Mallik, Manufacturing Science, worked example';
    check('rc-energy', 'energy of a discharge', rc.energyJ.value, 0.1125, 'J', book);
    check('rc-time', 'charging time', rc.chargingS.value, 6.931e-4, 's', book);
    check('rc-power', 'mean power', rc.powerW.value, 162.3, 'W', book);
    outsideCheck({
      id: 'process-rc-removal',
      what: 'removal rate of the relaxation circuit',
      ours: rc.removalMm3PerMin.value,
      theirs: 1.63,
      unit: 'mm3/min',
      allowed: 0.04,
      why: 'the book rounds the power to 0.16 kW',
      source: book,
      standing: 'from memory',
    });
    outsideCheck({
      id: 'process-rc-roughness',
      what: 'roughness of the relaxation circuit',
      ours: rc.roughnessUm.value,
      theirs: 1.35,
      unit: 'um',
      allowed: 0.005,
      why: 'two decimals',
      source: book,
      standing: 'from memory',
    });
  });
});
