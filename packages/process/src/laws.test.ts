import { allLaws, quantile, sampleFigures, sumOf } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import * as process from './index.js';
import { exactly } from './testing/exactly.js';
import { startingBook } from './testing/starting-book.js';

const book = startingBook();
const { burnTime, estimateWirePass, findMaterial, findWire, findWireMachine, removalCeiling } = process;

/** Laws this room declares; sums come from the base room. */
const laws = [...allLaws().values()].filter((law) => !law.variadic);

describe('every law of the process room', () => {
  it('is there', () => {
    expect(laws.length).toBeGreaterThan(50);
  });

  it.each(laws.map((law) => [law.id, law] as const))('%s explains itself', (_id, law) => {
    expect(law.says).toMatch(/^[A-Z0-9].*\.$/s);
    expect(law.source.title).not.toBe('');
    expect(law.output).not.toBe('');
    for (const [name, input] of Object.entries(law.inputs)) {
      expect(law.formula, `formula names ${name}`).toContain(name);
      expect(input.unit).not.toBe('');
      if (input.valid !== undefined) expect(input.valid[0]).toBeLessThan(input.valid[1]);
    }
    if (law.scatter !== undefined) expect(law.scatter.relative).toBeGreaterThan(0);
  });
});

describe('intervals', () => {
  const pass = (level: number) =>
    estimateWirePass({
      book,
      material: findMaterial(book, 'D2')!,
      wire: findWire(book, 'B25')!,
      machine: findWireMachine(book, 'W1')!,
      level: book.wireLevels[level - 1]!,
      burnHeightMm: 30,
    }).value!;

  it('stated by propagation agree with 4000 draws through the laws', () => {
    const total = sumOf({
      rough: burnTime(exactly(400, 'mm'), pass(1).feedMmPerMin),
      'skim 1': burnTime(exactly(400, 'mm'), pass(2).feedMmPerMin),
      'skim 2': burnTime(exactly(400, 'mm'), pass(3).feedMmPerMin),
    });
    for (const figure of [total, pass(1).raUm, pass(1).gapMm, pass(1).recastUm, pass(1).ceilingShare]) {
      const [draws] = sampleFigures([figure], 7, 4000);
      // Quantiles of 4000 draws scatter by about 2 %; propagation is first order.
      expect(quantile(draws!, 0.1) / figure.low).toBeCloseTo(1, 1);
      expect(quantile(draws!, 0.9) / figure.high).toBeCloseTo(1, 1);
    }
  });

  it('of a heat balance stay near ± 10 % when only handbook values are in doubt', () => {
    const ceiling = removalCeiling(findMaterial(book, 'D2')!, exactly(100, 'W'));
    expect(Object.keys(ceiling.doubts)).toEqual(['material-property:D2']);
    expect(ceiling.high / ceiling.value).toBeGreaterThan(1.1);
    expect(ceiling.high / ceiling.value).toBeLessThan(1.35);
  });
});
