import { allLaws, apply, type Figure, type Law, quantile, sampleFigures, sumOf } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import { publishedRaIn825 } from './sinking/published-fits.js';
import { exactly } from './testing/exactly.js';
import { startingBook } from './testing/starting-book.js';
import { applyWithin, FAR_FACTOR, farOutside, logBeyond } from './validity.js';
import { estimateWirePass } from './wire-pass.js';

const law = allLaws().get('published-ra-in825') as Law<'I' | 't'>;
const at = (current: number, onTime: number) => publishedRaIn825(exactly(current, 'A'), exactly(onTime, 'us'));
const spread = (figure: Figure): number => figure.high / figure.low;

describe('carrying a law beyond its range', () => {
  it('gives the plain figure inside', () => {
    const { value, problems } = at(3, 50);
    expect(problems).toEqual([]);
    expect(value).toEqual(apply(law, { I: exactly(3, 'A'), t: exactly(50, 'us') }));
  });

  it('widens the interval a little outside, the more the further, and says so', () => {
    const inside = at(5, 80).value!;
    const near = at(6, 80);
    const further = at(6, 120);
    expect(near.problems.map((p) => p.code)).toEqual(['PROCESS-OUTSIDE-RANGE']);
    expect(near.problems[0]!.message).toContain('current 6 A');
    expect(further.problems).toHaveLength(2);
    expect(spread(near.value!)).toBeGreaterThan(spread(inside));
    expect(spread(further.value!)).toBeGreaterThan(spread(near.value!));
    expect(JSON.stringify(near.value)).toContain('current 6 A lies outside 1 to 5');
  });

  it('keeps the widening when the law is drawn anew', () => {
    const { value } = at(9, 80);
    const [draws] = sampleFigures([value!], 3, 4000);
    expect(quantile(draws!, 0.9) / value!.high).toBeCloseTo(1, 1);
    expect(quantile(draws!, 0.1) / value!.low).toBeCloseTo(1, 1);
  });

  it.each([
    [10.1, 50],
    [3, 161],
    [0.4, 50],
    [3, 9],
  ])('refuses %f A, %f µs', (current, onTime) => {
    const { value, problems } = at(current, onTime);
    expect(value).toBeNull();
    expect(problems.map((p) => [p.code, p.severity])).toEqual([['PROCESS-FAR-OUTSIDE', 'stop']]);
    expect(problems[0]!.message).toMatch(/known for .* to .* lies far outside\. Change the setting/);
  });

  it('measures the distance as a ratio', () => {
    expect(logBeyond(10, [1, 5])).toBeCloseTo(Math.log(2), 12);
    expect(logBeyond(0.5, [1, 5])).toBeCloseTo(Math.log(2), 12);
    expect(logBeyond(0, [1, 5])).toBe(Number.POSITIVE_INFINITY);
    expect(logBeyond(-1, [-2, 0])).toBe(0);
    expect(logBeyond(1, [-2, 0])).toBe(Number.POSITIVE_INFINITY);
    expect(FAR_FACTOR).toBe(2);
    expect(applyWithin(law, { I: exactly(10, 'A'), t: exactly(50, 'us') }).value).not.toBeNull();
  });

  it('finds what was carried too far anywhere in the working', () => {
    const inside = apply(law, { I: exactly(3, 'A'), t: exactly(50, 'us') });
    const near = apply(law, { I: exactly(9, 'A'), t: exactly(50, 'us') });
    const far = apply(law, { I: exactly(3, 'A'), t: exactly(500, 'us') });
    expect(farOutside([sumOf({ inside, near })])).toEqual([]);
    const found = farOutside([sumOf({ inside, far }), far]);
    expect(found.map((p) => p.code)).toEqual(['PROCESS-FAR-OUTSIDE']);
    expect(found[0]!.message).toContain('on-time 500 us lies far outside');
  });

  it('refuses a wire far thinner than the wire laws know', () => {
    const book = startingBook();
    const b25 = book.wires.find((w) => w.id === 'B25')!;
    const wire = { ...b25, diameterMm: 0.02, diameter: exactly(0.02, 'mm') };
    const query = {
      book,
      material: book.materials[0]!,
      wire,
      machine: book.wireMachines[0]!,
      level: book.wireLevels[0]!,
    };
    const { value, problems } = estimateWirePass({ ...query, burnHeightMm: 20 });
    expect(value).toBeNull();
    expect(problems.map((p) => p.code)).toContain('PROCESS-FAR-OUTSIDE');
  });
});
