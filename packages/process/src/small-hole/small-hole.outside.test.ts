import { outsideCheck } from '@gapwright/base/testing';
import { describe, it } from 'vitest';
import { findDrillMachine, findMaterial } from '../find.js';
import { exactly } from '../testing/exactly.js';
import { startingBook } from '../testing/starting-book.js';
import { tubeUse } from './drill-laws.js';
import { estimateSmallHole } from './estimate-small-hole.js';
import { drillOvercut, tubesNeeded } from './tubes.js';

const book = startingBook();
const PRACTICE = { source: 'common practice in small-hole drilling', standing: 'common practice' } as const;

function within(id: string, what: string, ours: number, [low, high]: readonly [number, number], unit: string): void {
  const why = 'practice gives a range; half its width';
  outsideCheck({
    ...PRACTICE,
    id: `smallhole-${id}`,
    what,
    ours,
    theirs: (low + high) / 2,
    unit,
    allowed: (high - low) / 2,
    why,
  });
}

describe('small holes against worked numbers and practice', () => {
  it('100 holes 20 deep', () => {
    const used = tubeUse(exactly(20, 'mm'), exactly(0.5, '1'), exactly(0, 'mm'));
    outsideCheck({
      id: 'smallhole-tubes',
      what: 'Tubes for 100 holes 20 mm deep, wear 0.5, 300 mm usable',
      ours: tubesNeeded(100, used, 340, 40).expected.value,
      theirs: 4,
      unit: '1',
      allowed: 0,
      why: 'a count',
      source: 'worked by hand: 1000 mm of tube over 300 mm',
      standing: 'from memory',
    });
  });

  it.each([
    [0.3, [0.02, 0.05]],
    [1, [0.04, 0.1]],
    [2.5, [0.05, 0.15]],
  ] as const)('overcut of a %f mm tube', (tube, range) => {
    within(
      `overcut-${tube}`,
      `Overcut per side of a ${tube} mm tube`,
      drillOvercut(exactly(tube, 'mm')).value!.value,
      range,
      'mm',
    );
  });

  it.each([
    ['C1045', [15, 40]],
    ['316L', [12, 30]],
    ['Inconel718', [10, 25]],
    ['Ti-6Al-4V', [5, 15]],
    ['6061', [30, 80]],
    ['WC-10Co', [3, 10]],
  ] as const)('feed in %s', (id, range) => {
    within(
      `feed-${id}`,
      `Feed of a 1 mm tube in ${id}`,
      findMaterial(book, id)!.drillFeedMmPerMin!.value,
      range,
      'mm/min',
    );
  });

  it.each([
    ['C1045', [0.3, 0.8]],
    ['Inconel718', [0.4, 1]],
    ['Ti-6Al-4V', [0.5, 1.2]],
    ['WC-10Co', [1.5, 3.5]],
    ['6061', [0.1, 0.3]],
  ] as const)('wear in %s', (id, range) => {
    within(`wear-${id}`, `Tube per hole length in ${id}`, findMaterial(book, id)!.drillWearRatio!.value, range, '1');
  });

  it('breakthrough travel', () => {
    const { value } = estimateSmallHole({
      book,
      material: findMaterial(book, 'C1045')!,
      machine: findDrillMachine(book, 'D1')!,
      diameterMm: 1.126,
      toleranceMm: 0.1,
      depthMm: 20,
      holes: 1,
      purpose: 'start',
    });
    const exit = value!.travelMm.value - 20 * 1.5;
    within('exit', 'Exit travel of a 1.126 mm hole in diameters', exit / value!.holeMm.value, [1, 3], '1');
  });
});
