import { describe, expect, it } from 'vitest';
import { type Contour, contour, reverseContour, startAt } from './contour.js';
import { containsPoint } from './inside.js';
import { discFits, largestDisc } from './largest-disc.js';
import { distanceMm, type Point } from './point.js';
import { arc, arcPieces, bulgeSegments, line, type Segment } from './segment.js';
import { compose, isSimilarity, mirroring, rotation, scaling, transformContour, translation } from './transform.js';
import { wireAccess } from './wire-access.js';

const at = (x: number, y: number): Point => ({ x, y });
function polygon(...points: (readonly [number, number])[]): Contour {
  return contour(
    points.map(([x, y], i) => {
      const [tx, ty] = points[(i + 1) % points.length]!;
      return line(at(x, y), at(tx, ty));
    }),
    true,
  );
}
const SLOT = contour(
  [
    line(at(0, 0), at(12, 0)),
    ...bulgeSegments(at(12, 0), at(12, 3), 1),
    line(at(12, 3), at(0, 3)),
    ...bulgeSegments(at(0, 3), at(0, 0), 1),
  ],
  true,
);

/** A round hole of radius 5 with a parallel-sided neck of 1.2 mm leading out to a square pocket. */
function keyhole(): Contour {
  const half = Math.asin(0.6 / 5);
  const x = 5 * Math.cos(half);
  const around = arcPieces(at(0, 0), 5, half, 2 * Math.PI - 2 * half);
  const corners: (readonly [number, number])[] = [
    [x, -0.6],
    [9, -0.6],
    [9, -3],
    [15, -3],
    [15, 3],
    [9, 3],
    [9, 0.6],
    [x, 0.6],
  ];
  const walls: Segment[] = [];
  for (let i = 1; i < corners.length; i++) walls.push(line(at(...corners[i - 1]!), at(...corners[i]!)));
  return contour([...around, ...walls], true);
}

describe('wireAccess', () => {
  it('gives a slot its width, from both directions and any start', () => {
    for (let i = 0; i < SLOT.segments.length; i++) {
      const a = wireAccess(startAt(SLOT, i), 'left');
      expect(a.narrowestMm).toBeCloseTo(3, 12);
      expect(a.minInsideRadiusMm).toBe(1.5);
      expect(a.sharpCorners).toEqual([]);
      expect(wireAccess(reverseContour(startAt(SLOT, i)), 'right').narrowestMm).toBeCloseTo(3, 12);
    }
    expect(wireAccess(SLOT, 'right')).toMatchObject({ narrowestMm: null, minInsideRadiusMm: null, insideArcs: [] });
  });

  it('finds the neck of a keyhole and its place', () => {
    const a = wireAccess(keyhole(), 'left');
    expect(a.narrowestMm).toBeCloseTo(1.2, 12);
    expect(a.narrowestAt!.y).toBeCloseTo(0, 12);
    expect(a.narrowestAt!.x).toBeGreaterThan(4.9);
    expect(a.narrowestAt!.x).toBeLessThanOrEqual(9);
    expect(a.sharpInsideCorners).toHaveLength(4);
    expect(a.sharpCorners[0]!.turnRad).toBeCloseTo(Math.PI / 2, 12);
    expect(a.minInsideRadiusMm).toBeCloseTo(5, 12);
  });

  it('tells gap from tooth on a comb', () => {
    const points: (readonly [number, number])[] = [[0, -5]];
    for (let i = 11; i >= 0; i--) points.push([2 * i + 1.5, 0], [2 * i + 1.5, 10], [2 * i, 10], [2 * i, 0]);
    const comb = polygon([0, -5], [24, -5], [24, 0], ...points.slice(1));
    expect(wireAccess(comb, 'left').narrowestMm).toBeCloseTo(1.5, 12);
    expect(wireAccess(comb, 'right').narrowestMm).toBeCloseTo(0.5, 12);
  });

  it('measures between corners, corner and wall, arc and wall, arc and arc', () => {
    // Two noses point at each other across an hourglass; widths follow by hand.
    const hourglass = polygon([0, 0], [10, 0], [6, 5], [10, 10], [0, 10], [4, 5]);
    expect(wireAccess(hourglass, 'left').narrowestMm).toBeCloseTo(2, 12);
    const nose = polygon([0, 0], [10, 0], [6, 5], [10, 10], [0, 10]);
    const a = wireAccess(nose, 'left');
    expect(a.narrowestMm).toBeCloseTo(6, 12);
    expect(a.narrowestAt!.x).toBeCloseTo(3, 12);
    const bump = (x: number, r: number, side: number): Segment[] => [
      line(at(x, side > 0 ? 0 : 20), at(x, side > 0 ? 10 - r : 10 + r)),
      arc(at(x, side > 0 ? 10 - r : 10 + r), at(x, side > 0 ? 10 + r : 10 - r), at(x, 10), -Math.PI),
      line(at(x, side > 0 ? 10 + r : 10 - r), at(x, side > 0 ? 20 : 0)),
    ];
    const right = contour(
      [line(at(0, 0), at(9, 0)), ...bump(9, 2, 1), line(at(9, 20), at(0, 20)), line(at(0, 20), at(0, 0))],
      true,
    );
    expect(wireAccess(right, 'left').narrowestMm).toBeCloseTo(7, 12);
    const both = contour(
      [line(at(0, 0), at(9, 0)), ...bump(9, 2, 1), line(at(9, 20), at(0, 20)), ...bump(0, 3, -1)],
      true,
    );
    expect(wireAccess(both, 'left').narrowestMm).toBeCloseTo(4, 12);
  });

  it('gives a round hole its diameter and a ring groove its width', () => {
    expect(wireAccess(contour(arcPieces(at(1, 2), 4, 0.3, 2 * Math.PI), true), 'left').narrowestMm).toBeCloseTo(8, 9);
    const ring = contour(
      [
        ...arcPieces(at(0, 0), 10, 0, 5),
        ...bulgeSegments(at(10 * Math.cos(5), 10 * Math.sin(5)), at(8 * Math.cos(5), 8 * Math.sin(5)), 1),
        ...arcPieces(at(0, 0), 8, 5, -5),
        ...bulgeSegments(at(8, 0), at(10, 0), 1),
      ],
      true,
    );
    expect(wireAccess(ring, 'left').narrowestMm).toBeCloseTo(2, 9);
  });

  it('names a corner only beyond the stated angle', () => {
    const bent = (angle: number): Contour => polygon([0, 0], [10, 0], [20, 10 * Math.tan(angle)], [20, 20], [0, 20]);
    expect(wireAccess(bent((0.5 * Math.PI) / 180), 'left').sharpCorners).toHaveLength(4);
    const a = wireAccess(bent((2 * Math.PI) / 180), 'left');
    expect(a.sharpCorners).toHaveLength(5);
    expect(a.sharpCorners[0]!.turnRad).toBeCloseTo((2 * Math.PI) / 180, 12);
    expect(wireAccess(bent(0.1), 'left', { sharpCornerRad: 0.2 }).sharpCorners).toHaveLength(4);
  });

  it('turns, moves, scales and mirrors with the contour', () => {
    const map = compose(rotation(0.7), mirroring(0.2), scaling(2.5), translation(100, -40));
    expect(isSimilarity(map)).toBe(true);
    const before = wireAccess(keyhole(), 'left');
    const after = wireAccess(transformContour(keyhole(), map)!, 'right');
    expect(after.narrowestMm).toBeCloseTo(2.5 * before.narrowestMm!, 9);
    expect(after.minInsideRadiusMm).toBeCloseTo(2.5 * before.minInsideRadiusMm!, 9);
    expect(after.sharpCorners).toHaveLength(before.sharpCorners.length);
    expect(transformContour(keyhole(), scaling(1, 2))).toBeNull();
  });
});

describe('largestDisc', () => {
  it('agrees with closed forms', () => {
    const triangle = largestDisc(polygon([0, 0], [4, 0], [0, 3]))!;
    expect(triangle.radiusMm).toBeCloseTo(1, 6);
    expect(distanceMm(triangle.centre, at(1, 1))).toBeLessThan(1e-3);
    expect(largestDisc(SLOT)!.radiusMm).toBeCloseTo(1.5, 9);
    const hole = largestDisc(keyhole())!;
    expect(hole.radiusMm).toBeGreaterThan(5 - 1e-4);
    expect(hole.radiusMm).toBeLessThanOrEqual(5 + 1e-9);
    // Quarter disc of radius 1: r·(1 + √2) = 1.
    const quarter = contour(
      [line(at(0, 0), at(1, 0)), arc(at(1, 0), at(0, 1), at(0, 0), Math.PI / 2), line(at(0, 1), at(0, 0))],
      true,
    );
    expect(Math.abs(largestDisc(quarter)!.radiusMm - 1 / (1 + Math.SQRT2))).toBeLessThan(1e-4);
  });

  it('is not beaten by a fine grid of centres and really fits', () => {
    const shapes = [
      keyhole(),
      polygon([0, 0], [9, 1], [7, 4], [12, 9], [3, 6], [-2, 8]),
      polygon([0, 0], [6, 0], [6, 2], [2, 2], [2, 7], [0, 7]),
    ];
    for (const c of shapes) {
      const disc = largestDisc(c)!;
      expect(discFits(c, disc.centre, disc.radiusMm)).toBe(true);
      expect(discFits(c, disc.centre, disc.radiusMm + 0.001)).toBe(false);
      expect(disc.shortfallMm).toBeLessThanOrEqual(1e-4);
      for (let x = -6; x <= 16; x += 0.37) {
        for (let y = -6; y <= 10; y += 0.37) {
          if (containsPoint(c, at(x, y))) expect(discFits(c, at(x, y), disc.radiusMm + disc.shortfallMm)).toBe(false);
        }
      }
    }
  });

  it('is null without an inside', () => {
    expect(largestDisc(contour(SLOT.segments, false))).toBeNull();
    expect(largestDisc(contour([], true))).toBeNull();
    expect(largestDisc(contour([line(at(0, 0), at(5, 0)), line(at(5, 0), at(0, 0))], true))).toBeNull();
  });
});
