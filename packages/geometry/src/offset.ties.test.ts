import { type Random, seededRandom } from '@gapwright/base';
import { Clipper, EndType, JoinType } from 'clipper2-ts';
import { describe, expect, it } from 'vitest';
import { areaMm2, type Contour, contour, lengthMm } from './contour.js';
import { offsetContour } from './offset.js';
import type { Point } from './point.js';
import { arc, line, nearestPoint, pointAt, type Segment } from './segment.js';
import { selfIntersections } from './self-intersections.js';
import { chordPoints } from './testing/chords.js';

const COUNT = Number(process.env.OFFSET_SAMPLES ?? 500);
const SEED = Number(process.env.OFFSET_SEED ?? 7_000);
const CHORD_MM = 5e-4;
const GRID_PER_MM = 1e6;

/**
 * A skyline on whole millimetres, corners sharp or rounded by whole or half millimetres: every distance on the half
 * millimetre makes curves touch, vanish or coincide exactly.
 */
function skyline(random: Random): Contour {
  const columns = 2 + random.below(6);
  const points: Point[] = [{ x: 0, y: 0 }];
  const widths = Array.from({ length: columns }, () => 1 + random.below(5));
  const total = widths.reduce((a, b) => a + b, 0);
  points.push({ x: total, y: 0 });
  let x = total;
  let height = -1;
  for (const w of widths) {
    let next = 2 + random.below(8);
    if (next === height) next++;
    height = next;
    points.push({ x, y: height });
    x -= w;
    points.push({ x, y: height });
  }
  return roundSome(points, random);
}

function roundSome(points: readonly Point[], random: Random): Contour {
  const n = points.length;
  const segments: Segment[] = [];
  const radius = points.map(() => (random.below(2) === 0 ? 0 : 0.5));
  for (let i = 0; i < n; i++) {
    const before = points[(i + n - 1) % n]!;
    const here = points[i]!;
    const after = points[(i + 1) % n]!;
    const far = points[(i + 2) % n]!;
    const ux = Math.sign(here.x - before.x);
    const uy = Math.sign(here.y - before.y);
    const vx = Math.sign(after.x - here.x);
    const vy = Math.sign(after.y - here.y);
    const wx = Math.sign(far.x - after.x);
    const wy = Math.sign(far.y - after.y);
    const r = radius[i]!;
    const s = radius[(i + 1) % n]!;
    const turn = ux * vy - uy * vx;
    const to = { x: here.x + vx * r, y: here.y + vy * r };
    if (r > 0) {
      const from = { x: here.x - ux * r, y: here.y - uy * r };
      const centre = { x: from.x + vx * r, y: from.y + vy * r };
      segments.push(arc(from, to, centre, (turn * Math.PI) / 2));
    }
    const end = { x: after.x - vx * s, y: after.y - vy * s };
    if (end.x !== to.x || end.y !== to.y) segments.push(line(to, end));
    expect(Math.abs(vx * wy - vy * wx)).toBe(1);
  }
  return contour(segments, true);
}

function polygonArea(c: Contour, distance: number): number {
  const path = chordPoints(c, CHORD_MM).map((p) => ({
    x: Math.round(p.x * GRID_PER_MM),
    y: Math.round(p.y * GRID_PER_MM),
  }));
  const out = Clipper.inflatePaths(
    [path],
    -distance * GRID_PER_MM,
    JoinType.Round,
    EndType.Polygon,
    2,
    CHORD_MM * GRID_PER_MM,
  );
  return Clipper.areaPaths(out) / GRID_PER_MM ** 2;
}

describe(`offsets of ${COUNT} contours full of exact ties, from seed ${SEED}`, () => {
  it('keeps the distance, closes and agrees in area', () => {
    for (let i = 0; i < COUNT; i++) {
      const random = seededRandom(SEED + i);
      const c = skyline(random);
      if (selfIntersections(c, 1e-6).length > 0) continue;
      for (const distance of [0.5, 1, 1.5, 2, -0.5, -1, -1.5, -2, -2.5]) {
        const tell = `seed ${SEED + i}, distance ${distance}`;
        const outs = offsetContour(c, distance);
        for (const out of outs) {
          expect(out.isClosed, tell).toBe(true);
          for (const s of out.segments) {
            const p = pointAt(s, 0.4);
            let nearest = Infinity;
            for (const o of c.segments) nearest = Math.min(nearest, nearestPoint(o, p).distanceMm);
            expect(Math.abs(nearest - Math.abs(distance)), `${tell} at ${p.x}, ${p.y}`).toBeLessThanOrEqual(1e-7);
          }
        }
        const ours = outs.reduce((sum, o) => sum + areaMm2(o), 0);
        const edge = lengthMm(c) + outs.reduce((sum, o) => sum + lengthMm(o), 0);
        const theirs = polygonArea(c, distance);
        expect(Math.abs(ours - theirs), `${tell}: ours ${ours}, theirs ${theirs}`).toBeLessThanOrEqual(
          2 * CHORD_MM * edge,
        );
      }
    }
  }, 120_000);
});
