import { describe, expect, it } from 'vitest';
import { contour } from './contour.js';
import type { Point } from './point.js';
import { arc, arcPieces, line, type Segment } from './segment.js';
import { selfIntersections } from './self-intersections.js';

const p = (x: number, y: number): Point => ({ x, y });

function path(points: readonly Point[], isClosed: boolean): Point[] {
  const segments: Segment[] = [];
  const count = isClosed ? points.length : points.length - 1;
  for (let i = 0; i < count; i++) segments.push(line(points[i]!, points[(i + 1) % points.length]!));
  return selfIntersections(contour(segments, isClosed), 1e-6);
}

describe('selfIntersections', () => {
  it('finds none in simple contours', () => {
    expect(path([p(0, 0), p(10, 0), p(10, 10), p(0, 10)], true)).toEqual([]);
    expect(selfIntersections(contour(arcPieces(p(3, 4), 5, 1, 2 * Math.PI), true), 1e-6)).toEqual([]);
    const slot = [
      line(p(0, 0), p(9, 0)),
      arc(p(9, 0), p(9, 4), p(9, 2), Math.PI),
      line(p(9, 4), p(0, 4)),
      arc(p(0, 4), p(0, 0), p(0, 2), Math.PI),
    ];
    expect(selfIntersections(contour(slot, true), 1e-6)).toEqual([]);
  });

  it('finds the waist of a figure eight', () => {
    expect(path([p(0, 0), p(10, 10), p(10, 0), p(0, 10)], true)).toEqual([p(5, 5)]);
  });

  it('finds a corner resting on another side', () => {
    expect(path([p(0, 0), p(10, 0), p(10, 10), p(5, 0), p(0, 10)], true)).toEqual([p(5, 0)]);
  });

  it('finds neighbours that run back over each other', () => {
    const found = path([p(0, 0), p(10, 0), p(4, 0), p(4, 5)], false);
    expect(found).toContainEqual(p(4, 0));
  });

  it('finds two pieces that run there and back and so enclose nothing', () => {
    expect(path([p(0, 0), p(10, 0)], true)).toEqual([p(0, 0)]);
    const bow = arc(p(5, 0), p(-5, 0), p(0, 0), Math.PI);
    const back = arc(p(-5, 0), p(5, 0), p(0, 0), -Math.PI);
    expect(selfIntersections(contour([bow, back], true), 1e-6)).toEqual([p(5, 0)]);
  });

  it('finds neighbours that cross away from their joint', () => {
    const segments = [arc(p(5, 0), p(-5, 0), p(0, 0), Math.PI), line(p(-5, 0), p(5, 10 / 3))];
    const found = selfIntersections(contour(segments, false), 1e-6);
    expect(found.length).toBe(1);
    expect(Math.sqrt(found[0]!.x ** 2 + found[0]!.y ** 2)).toBeCloseTo(5, 9);
  });

  it('closes an open path only when told to', () => {
    expect(path([p(0, 0), p(10, 0), p(10, 10), p(0, 0)], false)).toEqual([p(0, 0)]);
  });
});
