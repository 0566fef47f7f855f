import { isFigure } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import { findMaterial } from './find.js';
import { parseShopBook } from './parse-shop-book.js';
import { startingBookJson as json } from './testing/starting-book.js';

describe('the starting shop book', () => {
  it('is read without problems', () => {
    const { value, problems } = parseShopBook(json());
    expect(problems).toEqual([]);
    expect(value!.materials.length).toBeGreaterThanOrEqual(18);
    expect(value!.wireMachines.map((m) => m.name)).toEqual([
      'Wire 1',
      'Wire 2',
      'Wire 3',
      'Wire 4',
      'Wire 5',
      'Wire 6',
    ]);
    expect(value!.drillMachines).toHaveLength(3);
    expect(value!.wireLevels.map((l) => l.level)).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it('gives every number as a figure with a unit and a source', () => {
    const book = parseShopBook(json()).value!;
    let count = 0;
    const walk = (at: unknown): void => {
      if (isFigure(at)) {
        count++;
        expect(at.unit).not.toBe('');
        expect(at.low <= at.value && at.value <= at.high).toBe(true);
        expect(at.reason.kind === 'given' && at.reason.source.title !== '').toBe(true);
      } else if (typeof at === 'object' && at !== null) for (const inner of Object.values(at)) walk(inner);
    };
    walk(book);
    expect(count).toBeGreaterThan(300);
  });

  it('finds materials as people write them', () => {
    const book = parseShopBook(json()).value!;
    expect(findMaterial(book, 'd2')?.id).toBe('D2');
    expect(findMaterial(book, '1.2379')?.id).toBe('D2');
    expect(findMaterial(book, 'ti 6al 4v')?.id).toBe('Ti-6Al-4V');
    expect(findMaterial(book, 'in718')?.id).toBe('Inconel718');
    expect(findMaterial(book, 'unobtainium')).toBeUndefined();
    expect(findMaterial(book, '--')).toBeUndefined();
  });
});
