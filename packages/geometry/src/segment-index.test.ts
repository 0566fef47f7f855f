import { seededRandom } from '@gapwright/base';
import { describe, expect, it } from 'vitest';
import { contourBox, reverseContour } from './contour.js';
import { distanceMm } from './point.js';
import { nearestPoint, pointAt, segmentBox } from './segment.js';
import { indexSegments } from './segment-index.js';
import { chordPoints } from './testing/chords.js';
import { sampleContour } from './testing/sample-contours.js';

describe('SegmentIndex', () => {
  it('finds the same nearest distance as looking at every segment', () => {
    const random = seededRandom(21);
    for (let i = 0; i < 100; i++) {
      const c = sampleContour(random).contour;
      const index = indexSegments(c.segments);
      const box = contourBox(c);
      for (let k = 0; k < 50; k++) {
        const p = {
          x: box.minX + (box.maxX - box.minX) * 2 * random.uniform(),
          y: box.minY + (box.maxY - box.minY) * random.uniform(),
        };
        const plain = Math.min(...c.segments.map((s) => nearestPoint(s, p).distanceMm));
        const found = index.nearest(p)!;
        expect(Math.abs(found.distanceMm - plain)).toBeLessThanOrEqual(1e-12 * (1 + plain));
        expect(Math.abs(distanceMm(found.point, p) - found.distanceMm)).toBeLessThanOrEqual(1e-9);
        expect(index.isWithin(p, plain + 1e-6)).toBe(true);
        expect(index.isWithin(p, plain - 1e-6)).toBe(false);
      }
    }
  });

  it('searches boxes like looking at every segment', () => {
    const random = seededRandom(22);
    for (let i = 0; i < 100; i++) {
      const { segments } = sampleContour(random).contour;
      const p = pointAt(segments[random.below(segments.length)]!, random.uniform());
      const box = { minX: p.x - 1, minY: p.y - 2, maxX: p.x + 3, maxY: p.y + 1 };
      const plain = segments.flatMap((s, k) => {
        const b = segmentBox(s);
        return b.minX <= box.maxX && b.maxX >= box.minX && b.minY <= box.maxY && b.maxY >= box.minY ? [k] : [];
      });
      expect(indexSegments(segments).search(box)).toEqual(plain);
    }
  });

  it('tells inside from outside like a finely chorded polygon, away from the edge', () => {
    const random = seededRandom(23);
    let inside = 0;
    for (let i = 0; i < 100; i++) {
      const c = sampleContour(random).contour;
      const index = indexSegments(c.segments);
      const mirrored = indexSegments(reverseContour(c).segments);
      const polygon = chordPoints(c, 1e-3);
      const box = contourBox(c);
      for (let k = 0; k < 40; k++) {
        // Half of the points level with a corner, where a ray is most easily miscounted.
        const corner = c.segments[random.below(c.segments.length)]!.from;
        const y = k % 2 === 0 ? corner.y : box.minY + (box.maxY - box.minY) * random.uniform();
        const p = { x: box.minX + (box.maxX - box.minX) * random.uniform(), y };
        if (index.isWithin(p, 2e-3)) continue;
        let winding = 0;
        polygon.forEach((a, j) => {
          const b = polygon[(j + 1) % polygon.length]!;
          winding += Math.atan2(
            (a.x - p.x) * (b.y - p.y) - (a.y - p.y) * (b.x - p.x),
            (a.x - p.x) * (b.x - p.x) + (a.y - p.y) * (b.y - p.y),
          );
        });
        const turns = Math.round(winding / (2 * Math.PI)) + 0; // + 0 turns -0 into 0
        expect(index.winding(p)).toBe(turns);
        expect(mirrored.winding(p)).toBe(0 - turns);
        if (turns !== 0) inside++;
      }
    }
    expect(inside).toBeGreaterThan(500);
  });

  it('answers for an empty index', () => {
    const empty = indexSegments([]);
    expect(empty.nearest({ x: 0, y: 0 })).toBeUndefined();
    expect(empty.search({ minX: 0, minY: 0, maxX: 1, maxY: 1 })).toEqual([]);
    expect(empty.isInside({ x: 0, y: 0 })).toBe(false);
  });
});
