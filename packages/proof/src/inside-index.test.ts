import { arc, arcPieces, contour, line, type Point, type Segment } from '@gapwright/geometry';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { BoxTree } from './box-tree.js';
import { distanceTo } from './distance.js';
import { InsideIndex } from './inside-index.js';
import { isInside } from './side-of.js';

/** A star-shaped contour whose sides are lines or bowed arcs, by radii and bows (share of a quarter turn) in turn. */
function star(radii: readonly number[], bows: readonly number[]): Segment[] {
  const corner = (k: number): Point => {
    const angle = (2 * Math.PI * k) / radii.length;
    const r = radii[k % radii.length]!;
    return { x: r * Math.cos(angle), y: r * Math.sin(angle) };
  };
  return radii.map((_, k) => {
    const from = corner(k);
    const to = corner((k + 1) % radii.length);
    const sweep = (bows[k % bows.length]! * Math.PI) / 2;
    if (Math.abs(sweep) < 1e-3) return line(from, to);
    const away = 1 / Math.tan(sweep / 2) / 2;
    const centre = {
      x: (from.x + to.x) / 2 - (to.y - from.y) * away,
      y: (from.y + to.y) / 2 + (to.x - from.x) * away,
    };
    return arc(from, to, centre, sweep);
  });
}

const radii = fc.array(fc.double({ min: 1, max: 9, noNaN: true }), { minLength: 3, maxLength: 60 });
const bows = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 1, maxLength: 5 });
const place = fc.record({
  x: fc.double({ min: -10, max: 10, noNaN: true }),
  y: fc.double({ min: -10, max: 10, noNaN: true }),
});

it('the bands tell inside from outside as the whole contour does', () => {
  fc.assert(
    fc.property(radii, bows, fc.array(place, { minLength: 5, maxLength: 20 }), (r, b, places) => {
      const shape = contour(star(r, b), true);
      const index = new InsideIndex(shape);
      // Corners lie on the edges of bands.
      for (const p of [...places, ...shape.segments.map((s) => ({ x: 0.3, y: s.from.y }))]) {
        expect(index.has(p)).toBe(isInside(shape, p));
      }
    }),
    { numRuns: 300 },
  );
});

it('a circle holds its centre and nothing beyond its rim', () => {
  const index = new InsideIndex(contour(arcPieces({ x: 3, y: 4 }, 5, 1, 2 * Math.PI), true));
  expect(index.has({ x: 3, y: 4 })).toBe(true);
  expect(index.has({ x: 3, y: 8.999 })).toBe(true);
  expect(index.has({ x: 3, y: 9.001 })).toBe(false);
  expect(index.has({ x: 8.001, y: 4 })).toBe(false);
});

it('the tree finds what looking at every piece finds', () => {
  fc.assert(
    fc.property(radii, bows, place, (r, b, p) => {
      const segments = star(r, b);
      const margins = Float64Array.from(segments, (_, k) => 0.1 + (k % 3) * 0.05);
      const tree = new BoxTree(segments, margins);
      const measure = (k: number): number => distanceTo(segments[k]!, p.x, p.y) - margins[k]!;
      const least = Math.min(...segments.map((_, k) => measure(k)));
      expect(tree.least(p.x, p.y, 1, measure).value).toBeCloseTo(Math.min(1, least), 12);
      const reached = segments.map((_, k) => k).filter((k) => measure(k) <= 0);
      const seen: number[] = [];
      tree.search(p.x, p.y, p.x, p.y, (k) => seen.push(k));
      for (const k of reached) expect(seen).toContain(k);
      expect(tree.some(p.x, p.y, p.x, p.y, (k) => measure(k) <= 0)).toBe(reached.length > 0);
    }),
    { numRuns: 300 },
  );
});
