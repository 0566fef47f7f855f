import fc from 'fast-check';
import { expect, it } from 'vitest';
import { areaMm2, contour, lengthMm } from './contour.js';
import { fitArcs } from './fit-arcs.js';
import { distanceMm } from './point.js';
import { arcPieces, line, pointAt } from './segment.js';
import {
  arcCurve,
  compose,
  mirroring,
  rotation,
  scaling,
  transformContour,
  transformCurve,
  transformPoint,
  translation,
} from './transform.js';

const quarterDisc = contour(
  [
    line({ x: 0, y: 0 }, { x: 5, y: 0 }),
    ...arcPieces({ x: 0, y: 0 }, 5, 0, Math.PI / 2),
    line({ x: 0, y: 5 }, { x: 0, y: 0 }),
  ],
  true,
);

it('scales length and area, and turns the sign of the area when mirrored', () => {
  const angle = fc.double({ min: -7, max: 7, noNaN: true });
  const factor = fc.double({ min: 0.01, max: 100, noNaN: true });
  fc.assert(
    fc.property(angle, angle, factor, fc.boolean(), (turn, axis, k, isMirrored) => {
      const map = compose(rotation(turn), ...(isMirrored ? [mirroring(axis)] : []), scaling(k), translation(3, -8));
      const image = transformContour(quarterDisc, map)!;
      expect(lengthMm(image) / (k * lengthMm(quarterDisc))).toBeCloseTo(1, 9);
      expect(areaMm2(image) / (k * k * areaMm2(quarterDisc))).toBeCloseTo(isMirrored ? -1 : 1, 9);
      const p = transformPoint(pointAt(quarterDisc.segments[1]!, 0.3), map);
      expect(distanceMm(pointAt(image.segments[1]!, 0.3), p)).toBeLessThan(1e-9 * k + 1e-12);
    }),
    { seed: 51, numRuns: 100 },
  );
});

it('makes ellipses of circles under unequal scales, to be fitted', () => {
  const circle = arcPieces({ x: 0, y: 0 }, 5, 0, 2 * Math.PI);
  const map = scaling(2, 0.6);
  expect(transformContour(contour(circle, true), map)).toBeNull();
  const halves = circle.map((s) => fitArcs(transformCurve(arcCurve(s), map), 0.0005).segments);
  const image = contour(halves.flat(), true);
  expect(Math.abs(areaMm2(image) - Math.PI * 10 * 3)).toBeLessThan(0.0005 * 45);
  expect(halves[0]!.at(-1)!.to).toEqual(halves[1]![0]!.from);
});
