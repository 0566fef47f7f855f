import { seededRandom } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import { intersectSegments } from './intersect.js';
import { distanceMm, type Point } from './point.js';
import { arc, arcPieces, bulgeSegments, line, nearestPoint, type Segment } from './segment.js';

const MERGE_MM = 1e-6;
const p = (x: number, y: number): Point => ({ x, y });
const halfCircle = (x: number, y: number, r: number): Segment => arc(p(x + r, y), p(x - r, y), p(x, y), Math.PI);

function kindOf(a: Segment, b: Segment): string {
  const forward = intersectSegments(a, b, MERGE_MM);
  const backward = intersectSegments(b, a, MERGE_MM);
  expect(backward.kind).toBe(forward.kind);
  expect(backward.points.length).toBe(forward.points.length);
  return `${forward.kind} ${forward.points.length}`;
}

describe('intersectSegments', () => {
  it.each<[string, string, Segment, Segment]>([
    ['lines that cross', 'crossing 1', line(p(0, 0), p(10, 10)), line(p(0, 10), p(10, 0))],
    ['lines that miss', 'none 0', line(p(0, 0), p(10, 10)), line(p(0, 10), p(4, 6.1))],
    ['lines end to end', 'crossing 1', line(p(0, 0), p(10, 0)), line(p(10, 0), p(10, 5))],
    ['parallel lines', 'none 0', line(p(0, 0), p(10, 0)), line(p(0, 1e-4), p(10, 1e-4))],
    ['collinear lines that overlap', 'overlapping 2', line(p(0, 0), p(10, 0)), line(p(4, 0), p(14, 0))],
    ['one line inside another', 'overlapping 2', line(p(0, 0), p(10, 0)), line(p(7, 0), p(3, 0))],
    ['collinear lines that meet', 'touching 1', line(p(0, 0), p(10, 0)), line(p(10, 0), p(14, 0))],
    ['collinear lines apart', 'none 0', line(p(0, 0), p(10, 0)), line(p(11, 0), p(14, 0))],
    ['line through an arc', 'crossing 2', line(p(-10, 3), p(10, 3)), halfCircle(0, 0, 5)],
    ['line through one side of an arc', 'crossing 1', line(p(0, 3), p(10, 3)), halfCircle(0, 0, 5)],
    ['line below the arc', 'none 0', line(p(-10, -3), p(10, -3)), halfCircle(0, 0, 5)],
    ['line touching an arc', 'touching 1', line(p(-10, 5), p(10, 5)), halfCircle(0, 0, 5)],
    ['line just past an arc', 'none 0', line(p(-10, 5 + 1e-5), p(10, 5 + 1e-5)), halfCircle(0, 0, 5)],
    ['line just inside an arc', 'crossing 2', line(p(-10, 5 - 1e-5), p(10, 5 - 1e-5)), halfCircle(0, 0, 5)],
    ['arcs that cross', 'crossing 1', halfCircle(0, 0, 5), halfCircle(6, 0, 5)],
    ['arcs that touch outside', 'touching 1', halfCircle(0, 0, 5), halfCircle(10, 0, 5)],
    ['arcs that touch inside', 'touching 1', halfCircle(0, 0, 5), halfCircle(2, 0, 3)],
    ['concentric arcs', 'none 0', halfCircle(0, 0, 5), halfCircle(0, 0, 4)],
    ['arcs of one circle that overlap', 'overlapping 2', halfCircle(0, 0, 5), arc(p(0, 5), p(0, -5), p(0, 0), Math.PI)],
    ['halves of one circle', 'touching 2', halfCircle(0, 0, 5), arc(p(-5, 0), p(5, 0), p(0, 0), Math.PI)],
  ])('%s: %s', (_, expected, a, b) => expect(kindOf(a, b)).toBe(expected));

  it('puts crossings on both segments, far from the origin too, and finds what sampling finds', () => {
    const random = seededRandom(11);
    const at = (scale: number): Point => p(500 + scale * random.uniform(), -500 + scale * random.uniform());
    const draw = (): Segment => {
      const bulge = random.below(2) === 0 ? 0 : 2 * random.uniform() - 1;
      return bulgeSegments(at(20), at(20), bulge)[0]!;
    };
    let crossed = 0;
    for (let i = 0; i < 20_000; i++) {
      const a = draw();
      const b = draw();
      const found = intersectSegments(a, b, MERGE_MM);
      if (found.kind === 'none') continue;
      crossed++;
      for (const q of found.points) {
        expect(nearestPoint(a, q).distanceMm, `draw ${i}`).toBeLessThanOrEqual(MERGE_MM);
        expect(nearestPoint(b, q).distanceMm, `draw ${i}`).toBeLessThanOrEqual(MERGE_MM);
      }
    }
    expect(crossed).toBeGreaterThan(4000);
  });

  it('finds a line through two points of a circle at exactly those points', () => {
    const random = seededRandom(12);
    for (let i = 0; i < 2000; i++) {
      const r = 0.01 + 200 * random.uniform();
      const centre = p(1000 * random.uniform(), 1000 * random.uniform());
      const pieces = arcPieces(centre, r, 6 * random.uniform(), 2 * Math.PI);
      const a = 2 * Math.PI * random.uniform();
      const b = a + 0.02 + 3 * random.uniform();
      const on = (angle: number): Point => p(centre.x + r * Math.cos(angle), centre.y + r * Math.sin(angle));
      const chord = line(on(a), on(b));
      const found = pieces.flatMap((s) => intersectSegments(chord, s, MERGE_MM).points);
      for (const end of [chord.from, chord.to]) {
        expect(Math.min(...found.map((q) => distanceMm(q, end))), `draw ${i}`).toBeLessThanOrEqual(1e-9);
      }
    }
  });
});
