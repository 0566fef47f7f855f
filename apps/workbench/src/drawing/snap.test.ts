import { describe, expect, it } from 'vitest';
import { measureText, NOTHING_MEASURED, withPoint } from './measure.js';
import { bestSnap, segmentSnaps, tangentPoints } from './snap.js';
import { arcSample, lineSample, packed } from './testing/packed-samples.js';

const line = packed([lineSample(0, 0, 10, 0)]).values;
const arc = packed([arcSample(0, 0, 5, 0, Math.PI)]).values;

describe('snapping', () => {
  it('holds on to ends, middles and centres before any point along the line', () => {
    const at = (x: number, y: number) => bestSnap(segmentSnaps(line, 0, { x, y }, null), { x, y }, 0.5);
    expect(at(0.3, 0.1)).toMatchObject({ kind: 'end', at: { x: 0, y: 0 } });
    expect(at(5.2, -0.3)).toMatchObject({ kind: 'middle', at: { x: 5, y: 0 } });
    expect(at(2, 0.2)).toMatchObject({ kind: 'nearest', at: { x: 2, y: 0 } });
    expect(at(2, 3)).toMatchObject({ kind: 'free', at: { x: 2, y: 3 } });
    const cursor = { x: 0.1, y: -0.1 };
    expect(bestSnap(segmentSnaps(arc, 0, cursor, null), cursor, 0.5)).toMatchObject({
      kind: 'centre',
      at: { x: 0, y: 0 },
      radiusMm: 5,
    });
  });

  it('finds where a line from the first point touches an arc', () => {
    for (const p of tangentPoints({ x: 0, y: 0 }, 5, { x: 13, y: 0 })) {
      expect(Math.sqrt(p.x * p.x + p.y * p.y)).toBeCloseTo(5, 12);
      // Square to the radius; the tangent length is 12 by Pythagoras.
      expect(p.x * (13 - p.x) + p.y * -p.y).toBeCloseTo(0, 9);
      expect(Math.sqrt((13 - p.x) ** 2 + p.y ** 2)).toBeCloseTo(12, 12);
    }
    expect(tangentPoints({ x: 0, y: 0 }, 5, { x: 3, y: 0 })).toEqual([]);
    const kinds = segmentSnaps(arc, 0, { x: 2, y: 4.5 }, { x: 13, y: 0 }).filter((s) => s.kind === 'tangent');
    // Only the upper half is there.
    expect(kinds).toHaveLength(1);
    expect(kinds[0]!.at.y).toBeGreaterThan(0);
  });

  it('finds the foot of the perpendicular', () => {
    const snaps = segmentSnaps(line, 0, { x: 7, y: 0.1 }, { x: 7, y: 4 });
    expect(snaps.find((s) => s.kind === 'square')?.at).toEqual({ x: 7, y: 0 });
    expect(segmentSnaps(line, 0, { x: 9, y: 0 }, { x: 12, y: 4 }).some((s) => s.kind === 'square')).toBe(false);
  });

  it('says distance, legs and radius in either unit', () => {
    const first = { kind: 'end', at: { x: 0, y: 0 }, radiusMm: null } as const;
    const second = { kind: 'centre', at: { x: 3, y: -4 }, radiusMm: 2.54 } as const;
    expect(measureText(first, second, 'mm')).toBe('distance 5 mm, dx 3 mm, dy -4 mm, radius of the arc 2.54 mm');
    expect(measureText(first, second, 'inch')).toContain('radius of the arc 0.1 in');
    const one = withPoint(NOTHING_MEASURED, first);
    const two = withPoint(one, second);
    expect(two).toEqual({ first, second });
    expect(withPoint(two, second)).toEqual({ first: second, second: null });
  });
});
