import { areaMm2, contour, line, type Point } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { roundInsideCorners } from './round-corners.js';

const polygon = (points: readonly Point[]) =>
  contour(
    points.map((p, i) => line(p, points[(i + 1) % points.length]!)),
    true,
  );

/** Material that a disc of radius r leaves in a right-angled corner, mm². */
const leftInCorner = (r: number): number => r * r * (1 - Math.PI / 4);

describe('an opening rounded by an agreed radius', () => {
  const square = [
    { x: 0, y: 0 },
    { x: 10, y: 0 },
    { x: 10, y: 10 },
    { x: 0, y: 10 },
  ];

  it('loses in each corner what a disc of that radius cannot reach', () => {
    // Counter-clockwise opening: the wire runs inside, on the left.
    const rounded = roundInsideCorners(polygon(square), 0.2);
    expect(areaMm2(rounded!)).toBeCloseTo(100 - 4 * leftInCorner(0.2), 9);
  });

  it('takes one arc for two corners of a chamfer that the disc does not touch', () => {
    const chamfered = polygon([{ x: 0.05, y: 0 }, ...square.slice(1), { x: 0, y: 0.05 }]);
    const rounded = roundInsideCorners(chamfered, 0.2);
    expect(areaMm2(rounded!)).toBeCloseTo(100 - 4 * leftInCorner(0.2), 9);
  });
});
