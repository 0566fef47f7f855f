import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Contour, contour, reverseContour, startAt } from './contour.js';
import { boundaryDistanceMm, containsPoint, interiorPoint } from './inside.js';
import { nestContours } from './nest.js';
import type { Point } from './point.js';
import { arcPieces, bulgeSegments, line, pointAt } from './segment.js';

const at = (x: number, y: number): Point => ({ x, y });
const circle = (x: number, y: number, r: number, startRad = 0.3): Contour =>
  contour(arcPieces(at(x, y), r, startRad, 2 * Math.PI), true);

/** Closed contour through the points with a bulge per side. */
function bulged(vertices: readonly (readonly [number, number, number])[]): Contour {
  const segments = vertices.flatMap(([x, y, bulge], i) => {
    const [tx, ty] = vertices[(i + 1) % vertices.length]!;
    return bulgeSegments(at(x, y), at(tx, ty), bulge);
  });
  return contour(segments, true);
}

/** Slow oracle: winding angle of a fine polygon along the contour. */
function windsAround(c: Contour, p: Point): boolean {
  let turned = 0;
  for (const s of c.segments) {
    for (let k = 0; k < 120; k++) {
      const a = pointAt(s, k / 120);
      const b = pointAt(s, (k + 1) / 120);
      const ax = a.x - p.x;
      const ay = a.y - p.y;
      const bx = b.x - p.x;
      const by = b.y - p.y;
      turned += Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
    }
  }
  return Math.abs(Math.round(turned / (2 * Math.PI))) % 2 === 1;
}

const SHAPES: readonly Contour[] = [
  bulged([
    [0, 0, 0],
    [10, 0, 0.4],
    [10, 8, -0.7],
    [4, 8, 1],
    [0, 5, -0.2],
  ]),
  bulged([
    [-4, 0, 1],
    [4, 0, 1],
  ]),
  bulged([
    [0, 0, -0.5],
    [6, 0, -0.5],
    [6, 6, -0.5],
    [0, 6, -0.5],
  ]),
  // A ring cut open: an outer arc, an end, an inner arc back.
  contour(
    [
      ...arcPieces(at(0, 0), 10, 0, 5.5),
      line(at(10 * Math.cos(5.5), 10 * Math.sin(5.5)), at(7 * Math.cos(5.5), 7 * Math.sin(5.5))),
      ...arcPieces(at(0, 0), 7, 5.5, -5.5),
      line(at(7, 0), at(10, 0)),
    ],
    true,
  ),
];

describe('containsPoint', () => {
  it('agrees with the winding of a fine polygon', () => {
    const coordinate = fc.double({ min: -12, max: 14, noNaN: true });
    fc.assert(
      fc.property(fc.constantFrom(...SHAPES), coordinate, coordinate, (c, x, y) => {
        const p = at(x, y);
        if (boundaryDistanceMm(c, p) < 0.01) return;
        expect(containsPoint(c, p)).toBe(windsAround(c, p));
      }),
      { seed: 41, numRuns: 300 },
    );
  });

  it('does not stumble over heights of corners, arc tops and joints', () => {
    // Whole numbers put the ray through vertices, along edges and tangent to arcs.
    for (const c of SHAPES) {
      for (let x = -11; x <= 14; x += 1) {
        for (let y = -11; y <= 14; y++) {
          const p = at(x, y);
          if (boundaryDistanceMm(c, p) < 0.01) continue;
          const expected = windsAround(c, p);
          expect(containsPoint(c, p)).toBe(expected);
          expect(containsPoint(reverseContour(c), p)).toBe(expected);
          expect(containsPoint(startAt(c, 1), p)).toBe(expected);
        }
      }
    }
  });

  it('knows no inside of an open contour', () => {
    expect(containsPoint(contour(SHAPES[0]!.segments, false), at(5, 4))).toBe(false);
  });
});

describe('interiorPoint', () => {
  it('lies inside, away from the contour', () => {
    for (const c of SHAPES) {
      const p = interiorPoint(c)!;
      expect(windsAround(c, p)).toBe(true);
      expect(boundaryDistanceMm(c, p)).toBeGreaterThan(0.1);
    }
  });

  it('is null when nothing is enclosed', () => {
    expect(interiorPoint(contour([line(at(0, 0), at(5, 0)), line(at(5, 0), at(0, 0))], true))).toBeNull();
    expect(interiorPoint(contour([], true))).toBeNull();
  });
});

describe('nestContours', () => {
  it('builds parts, openings and parts within openings', () => {
    const all = [circle(0, 0, 2), circle(0, 0, 10), circle(6, 0, 1), circle(30, 0, 5), circle(0, 0, 1)];
    const { regions, parents, problems, duplicates } = nestContours(all);
    expect(problems).toEqual([]);
    expect(duplicates).toEqual([]);
    expect(parents).toEqual([1, null, 1, null, 0]);
    expect(regions.map((r) => [r.outer, r.depth, r.isOpening])).toEqual([
      [1, 0, false],
      [3, 0, false],
    ]);
    expect(regions[0]!.holes.map((r) => [r.outer, r.isOpening, r.holes.map((h) => [h.outer, h.depth])])).toEqual([
      [0, true, [[4, 2]]],
      [2, true, []],
    ]);
  });

  it('follows the containment of random circles, whatever their order', () => {
    // Whole numbers: touching circles are exact for the oracle, and two different ones never nearly touch.
    const disc = fc.record({
      x: fc.integer({ min: -20, max: 20 }),
      y: fc.integer({ min: -20, max: 20 }),
      r: fc.integer({ min: 1, max: 15 }),
    });
    const list = fc.uniqueArray(disc, { minLength: 1, maxLength: 10, selector: ({ x, y, r }) => `${x}/${y}/${r}` });
    fc.assert(
      fc.property(list, (discs) => {
        const { parents, problems } = nestContours(discs.map(({ x, y, r }) => circle(x, y, r)));
        let crossings = 0;
        const expected = discs.map((a, i) => {
          let parent: number | null = null;
          discs.forEach((b, j) => {
            const squared = (a.x - b.x) ** 2 + (a.y - b.y) ** 2;
            const isAround = j !== i && a.r < b.r && squared < (b.r - a.r) ** 2;
            if (isAround && (parent === null || b.r < discs[parent]!.r)) parent = j;
            if (j > i && squared <= (a.r + b.r) ** 2 && squared >= (a.r - b.r) ** 2) crossings++;
          });
          return parent;
        });
        expect(problems.map((p) => p.code)).toEqual(Array(crossings).fill('GEOMETRY-CONTOURS-CROSS'));
        if (crossings === 0) expect(parents).toEqual(expected);
      }),
      { seed: 42, numRuns: 150, interruptAfterTimeLimit: 10_000, markInterruptAsFailure: true },
    );
  });

  it('names the place where contours touch or cross', () => {
    const touching = nestContours([circle(0, 0, 5), circle(3, 0, 2)]);
    expect(touching.problems.map((p) => p.code)).toEqual(['GEOMETRY-CONTOURS-CROSS']);
    expect(touching.problems[0]!.at!.xMm).toBeCloseTo(5, 3);
    expect(touching.problems[0]!.at!.yMm).toBeCloseTo(0, 3);
    expect(touching.parents).toEqual([null, 0]);
    const crossing = nestContours([circle(0, 0, 5), circle(6, 0, 5)]);
    expect(crossing.problems[0]!.severity).toBe('stop');
    expect(crossing.problems[0]!.at!.xMm).toBeCloseTo(3, 9);
    expect(Math.abs(crossing.problems[0]!.at!.yMm!)).toBeCloseTo(4, 9);
  });

  it('lists a contour drawn twice, in any direction and from any start', () => {
    const result = nestContours([circle(0, 0, 5), reverseContour(circle(0, 0, 5, 2)), circle(0, 0, 1)]);
    expect(result.duplicates).toEqual([{ index: 1, of: 0 }]);
    expect(result.problems.map((p) => p.code)).toEqual(['GEOMETRY-CONTOUR-TWICE']);
    expect(result.regions).toHaveLength(1);
    expect(result.regions[0]!.holes.map((r) => r.outer)).toEqual([2]);
  });

  it('sets open contours aside', () => {
    const open = contour([line(at(0, 0), at(1, 0))], false);
    expect(nestContours([open, circle(0, 0, 5)]).problems.map((p) => p.code)).toEqual(['GEOMETRY-CONTOUR-OPEN']);
    expect(nestContours([]).regions).toEqual([]);
  });
});
