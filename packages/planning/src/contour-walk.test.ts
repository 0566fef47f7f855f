import { segmentLengthMm } from '@gapwright/geometry';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pathAlong, placeAt, walkOf } from './contour-walk.js';
import { circle, rectangle, roundedRectangle } from './testing/drawings.js';

it('cuts a stretch of a closed contour to length, joined end to end, from any place past the start', () => {
  const walk = walkOf(roundedRectangle(0, 0, 40, 20, 3));
  fc.assert(
    fc.property(
      fc.double({ min: -200, max: 200, noNaN: true }),
      fc.double({ min: 0.01, max: 150, noNaN: true }),
      (from, length) => {
        const path = pathAlong(walk, from, length);
        const total = path.reduce((sum, s) => sum + segmentLengthMm(s), 0);
        expect(total).toBeCloseTo(length, 6);
        path.slice(1).forEach((s, i) => {
          expect(s.from).toEqual(path[i]!.to);
        });
        const start = placeAt(walk, from).at;
        expect(path[0]!.from.x).toBeCloseTo(start.x, 6);
        expect(path[0]!.from.y).toBeCloseTo(start.y, 6);
      },
    ),
    { numRuns: 100 },
  );
});

it('keeps whole segments as they are drawn', () => {
  const drawn = rectangle(0, 0, 10, 5);
  expect(pathAlong(walkOf(drawn), 0, 30)).toEqual(drawn.segments);
});

it('finds places and directions on a circle', () => {
  const { at, tangent } = placeAt(walkOf(circle(1, 2, 5)), (5 * Math.PI) / 2);
  expect(at.x).toBeCloseTo(1, 9);
  expect(at.y).toBeCloseTo(7, 9);
  expect(tangent.x).toBeCloseTo(-1, 9);
});

it('ends open contours at their ends', () => {
  const open = { segments: rectangle(0, 0, 10, 5).segments.slice(0, 2), isClosed: false };
  const path = pathAlong(walkOf(open), 12, 100);
  expect(path).toEqual([{ kind: 'line', from: { x: 10, y: 2 }, to: { x: 10, y: 5 } }]);
});
