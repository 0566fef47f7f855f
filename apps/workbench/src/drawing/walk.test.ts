import type { SceneWalk } from '@gapwright/job';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { lengthMm, STRIDE } from './segments.js';
import { arcSample, lineSample, packed } from './testing/packed-samples.js';
import {
  clockText,
  lineAtPlace,
  nextLineMin,
  nextStop,
  partOfMove,
  placeAt,
  pointAtPlace,
  previousLineMin,
} from './walk.js';

// 4 mm in 2 min, a jump without cutting, half a circle in 6 min, and a move on the same program line.
const walk: SceneWalk = {
  operation: 1,
  paths: packed(
    [lineSample(0, 0, 4, 0)],
    [lineSample(4, 0, 10, 0)],
    [arcSample(8, 0, 2, 0, Math.PI)],
    [lineSample(6, 0, 6, -3)],
  ),
  endMin: Float64Array.of(2, 2, 8, 9),
  cuts: Uint8Array.of(1, 0, 1, 1),
  lines: Uint32Array.of(10, 11, 12, 12),
  halfKerfMm: Float32Array.of(0.15, 0.15, 0.15, 0.15),
  stops: [
    { atMin: 0, line: 10, says: 'thread', at: { x: 0, y: 0 } },
    { atMin: 8, line: 12, says: 'slug', at: { x: 6, y: 0 } },
  ],
};

describe('walk', () => {
  it('finds the move and its share by time, and takes moves without time at once', () => {
    expect(placeAt(walk, 0)).toEqual({ move: 0, share: 0 });
    expect(placeAt(walk, 1)).toEqual({ move: 0, share: 0.5 });
    expect(placeAt(walk, 2)).toEqual({ move: 2, share: 0 });
    expect(placeAt(walk, 5)).toEqual({ move: 2, share: 0.5 });
    expect(placeAt(walk, 99)).toEqual({ move: 4, share: 0 });
  });

  it('has the wire where it is then', () => {
    expect(pointAtPlace(walk, placeAt(walk, 1))).toEqual({ x: 2, y: 0 });
    const top = pointAtPlace(walk, placeAt(walk, 5))!;
    expect(top.x).toBeCloseTo(8, 12);
    expect(top.y).toBeCloseTo(2, 12);
    expect(pointAtPlace(walk, placeAt(walk, 99))).toEqual({ x: 6, y: -3 });
    expect(lineAtPlace(walk, placeAt(walk, 5))).toBe(12);
  });

  it('cuts a move into parts that add up', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1, noNaN: true }), (share) => {
        const sum = [
          [0, share],
          [share, 1],
        ].reduce((total, [from, to]) => {
          const part = partOfMove(walk.paths, 2, from!, to!);
          for (let at = 0; at < part.length; at += STRIDE) total += lengthMm(part, at);
          return total;
        }, 0);
        expect(sum).toBeCloseTo(2 * Math.PI, 9);
      }),
    );
  });

  it('steps by program line to and fro', () => {
    expect(nextLineMin(walk, 0)).toBe(2);
    expect(nextLineMin(walk, 2)).toBe(9);
    expect(previousLineMin(walk, 9)).toBe(2);
    expect(previousLineMin(walk, 5)).toBe(2);
    expect(previousLineMin(walk, 2)).toBe(0);
    expect(previousLineMin(walk, 0)).toBe(0);
  });

  it('steps from touch to touch', () => {
    expect(nextStop(walk, 0, 1)?.says).toBe('slug');
    expect(nextStop(walk, 8, 1)).toBeNull();
    expect(nextStop(walk, 8, -1)?.says).toBe('thread');
    expect(nextStop(walk, 0, -1)).toBeNull();
  });

  it('shows time as a clock does', () => {
    expect([0, 1.5, 59.999, 75.25].map(clockText)).toEqual(['0:00', '1:30', '1:00:00', '1:15:15']);
  });
});
