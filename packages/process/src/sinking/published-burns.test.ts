import type { Figure } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import { findMaterial } from '../find.js';
import { importTechnologyPoints } from '../technology-book/import-points.js';
import { IN825_MAPPING, readCells, TI13_MAPPING } from '../testing/published-tables.js';
import { startingBook } from '../testing/starting-book.js';
import { estimateSinking } from './estimate-sinking.js';

const book = startingBook();
const ti = importTechnologyPoints(readCells('sinker-ti13zr13nb-graphite.csv'), TI13_MAPPING).value!;
const inconel = importTechnologyPoints(readCells('in825-box-behnken.csv'), IN825_MAPPING).value!;

interface Compared {
  readonly median: number;
  readonly inside: number;
}

/** Measured over estimated, with a stand-in material; gap voltage 25 V is assumed, the tables do not state it. */
function compare(points: typeof ti, materialId: string, of: 'removalMm3PerMin' | 'raUm' | 'wearRatio'): Compared {
  const ratios: number[] = [];
  let inside = 0;
  for (const { conditions, results } of points) {
    const { value } = estimateSinking({
      material: findMaterial(book, materialId)!,
      electrode: 'graphite',
      setting: {
        gapVoltageV: 25,
        openVoltageV: Math.max(60, conditions.openVoltageV ?? 100),
        currentA: conditions.currentA!,
        onTimeUs: conditions.onTimeUs!,
        offTimeUs: conditions.offTimeUs!,
        toolPolarity: 'negative',
      },
      frontalAreaMm2: 100,
      depthMm: 1,
    });
    const estimate: Figure = value![of];
    const measured = of === 'wearRatio' ? results.wearMm3PerMin! / results.removalMm3PerMin! : results[of]!;
    ratios.push(measured / estimate.value);
    if (measured >= estimate.low && measured <= estimate.high) inside += 1;
  }
  ratios.sort((a, b) => a - b);
  return { median: ratios[Math.floor(ratios.length / 2)]!, inside: inside / ratios.length };
}

/**
 * What the starting laws are worth before a shop's own burns are in. These numbers stand in docs/process-models.md, misses
 * included: the laws know nothing of these alloys.
 */
describe('the starting laws of sinking against 45 published burns', () => {
  it.each([
    ['rate, Ti-13Zr-13Nb', ti, 'CP-Ti', 'removalMm3PerMin', 2.4, 0.75],
    ['rate, Inconel 825', inconel, 'Inconel625', 'removalMm3PerMin', 0.33, 0.7],
    ['Ra, Inconel 825', inconel, 'Inconel625', 'raUm', 1.5, 1],
    ['Ra, sintered Ti-13Zr-13Nb', ti, 'CP-Ti', 'raUm', 5.2, 0],
    ['wear, Ti-13Zr-13Nb', ti, 'CP-Ti', 'wearRatio', 0.15, 0],
  ] as const)('%s', (_, points, material, of, median, inside) => {
    const found = compare(points, material, of);
    expect(found.median / median).toBeCloseTo(1, 1);
    expect(found.inside).toBeGreaterThanOrEqual(inside);
  });
});
