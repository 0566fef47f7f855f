import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type LabelWish, placeLabels } from './labels.js';

const wish = (key: string, x: number, y: number, more: Partial<LabelWish> = {}): LabelWish => ({
  key,
  text: key,
  at: { x, y },
  clearPx: 3,
  widthPx: 50,
  heightPx: 16,
  rank: 1,
  apartPx: 3,
  places: 'around',
  ...more,
});

describe('placeLabels', () => {
  it('never lets two labels overlap, and loses none without saying so', () => {
    const wishes = fc.array(
      fc.record({
        x: fc.integer({ min: -200, max: 400 }),
        y: fc.integer({ min: -200, max: 300 }),
        w: fc.integer({ min: 8, max: 120 }),
      }),
      { maxLength: 120 },
    );
    fc.assert(
      fc.property(wishes, (list) => {
        const { placed, dropped } = placeLabels(list.map(({ x, y, w }, i) => wish(String(i), x, y, { widthPx: w })));
        expect(placed.length + dropped).toBe(list.length);
        for (const a of placed) {
          for (const b of placed) {
            if (a === b) continue;
            const isApart =
              a.left + a.wish.widthPx <= b.left ||
              b.left + b.wish.widthPx <= a.left ||
              a.top + a.wish.heightPx <= b.top ||
              b.top + b.wish.heightPx <= a.top;
            expect(isApart).toBe(true);
          }
        }
      }),
      { numRuns: 40 },
    );
  });

  it('serves the higher rank first and counts the rest where they are', () => {
    const crowd = Array.from({ length: 20 }, (_, i) => wish(`n${i}`, 100, 100));
    const { placed, crowds, dropped } = placeLabels([...crowd, wish('first', 100, 100, { rank: 9 })]);
    expect(placed[0]!.wish.key).toBe('first');
    expect(placed.length).toBeGreaterThan(1);
    expect(dropped).toBe(21 - placed.length);
    expect(crowds.map((c) => c.count)).toEqual([dropped]);
  });

  it('keeps labels off obstacles, and does not count very many', () => {
    const wall = { left: 1, top: -100, right: 300, bottom: 100 };
    const [placed] = placeLabels([wish('a', 0, 0)], [wall]).placed;
    expect(placed!.left + 50).toBeLessThanOrEqual(-2);
    const many = Array.from({ length: 5 }, (_, i) => wish(`n${i}`, 0, 0, { places: 'beside' }));
    expect(placeLabels(many)).toMatchObject({ crowds: [], dropped: 4 });
  });

  it('keeps a label off its own symbol, or on its point where that is wanted', () => {
    const beside = placeLabels([wish('a', 0, 0, { clearPx: 10 })]).placed[0]!;
    expect(beside.left).toBeGreaterThanOrEqual(10);
    const on = placeLabels([wish('b', 0, 0, { places: 'on' })]).placed[0]!;
    expect([on.left, on.top]).toEqual([-25, -8]);
  });
});
