import { seededRandom } from '@gapwright/base';
import { Clipper, EndType, JoinType } from 'clipper2-ts';
import { describe, expect, it } from 'vitest';
import { areaMm2, type Contour, contour, lengthMm } from './contour.js';
import { offsetContour } from './offset.js';
import type { Point } from './point.js';
import { nearestPoint, pointAt, tangentAt } from './segment.js';
import { indexSegments } from './segment-index.js';
import { selfIntersections } from './self-intersections.js';
import { chordPoints } from './testing/chords.js';
import { type Sample, sampleContour } from './testing/sample-contours.js';

const COUNT = Number(process.env.OFFSET_SAMPLES ?? 1000);
const SEED = Number(process.env.OFFSET_SEED ?? 20_261);
/** Largest error of the distance between result and original. */
const DISTANCE_MM = 1e-7;
/** A point this near to a result lies on it; whatever is shorter than a few merge lengths is left out. */
const MISSING_MM = 4e-6;
/** Chord tolerance of the comparison with a polygon library, and the library's grid. */
const CHORD_MM = 5e-4;
const GRID_PER_MM = 1e6;

interface Draw extends Sample {
  readonly seed: number;
  readonly distance: number;
}

function draws(): Draw[] {
  return Array.from({ length: COUNT }, (_, i) => {
    const random = seededRandom(SEED + i);
    const sample = sampleContour(random);
    const size = 0.05 * 400 ** random.uniform();
    return { ...sample, seed: SEED + i, distance: random.below(2) === 0 ? size : -size };
  });
}

const tell = (d: Draw, what: string): string => `seed ${d.seed}, ${d.name}, distance ${d.distance}: ${what}`;

/** Nearest distance by looking at every segment: shares nothing with the index the offset uses. */
function plainDistance(c: Contour, p: Point): number {
  let best = Infinity;
  for (const s of c.segments) best = Math.min(best, nearestPoint(s, p).distanceMm);
  return best;
}

function polygonArea(d: Draw): number {
  const path = chordPoints(d.contour, CHORD_MM).map((p) => ({
    x: Math.round(p.x * GRID_PER_MM),
    y: Math.round(p.y * GRID_PER_MM),
  }));
  const isLeft = areaMm2(d.contour) > 0;
  const growth = (isLeft ? -d.distance : d.distance) * GRID_PER_MM;
  if (!isLeft) path.reverse();
  const out = Clipper.inflatePaths([path], growth, JoinType.Round, EndType.Polygon, 2, CHORD_MM * GRID_PER_MM);
  return Clipper.areaPaths(out) / (GRID_PER_MM * GRID_PER_MM);
}

/** Points of the offset of each segment on its own that nothing comes nearer to must lie on some result. */
function expectComplete(d: Draw, c: Contour): void {
  const outs = offsetContour(c, d.distance);
  const index = indexSegments(outs.flatMap((o) => o.segments));
  for (const s of c.segments) {
    for (const t of [0.02, 0.31, 0.69, 0.98]) {
      const on = pointAt(s, t);
      const along = tangentAt(s, t);
      const p = { x: on.x - along.y * d.distance, y: on.y + along.x * d.distance };
      if (plainDistance(c, p) < Math.abs(d.distance) - 1e-9) continue;
      const gap = index.nearest(p)?.distanceMm ?? Infinity;
      expect(gap, tell(d, `misses ${p.x}, ${p.y}`)).toBeLessThanOrEqual(MISSING_MM);
    }
  }
}

describe(`offset laws on ${COUNT} random contours from seed ${SEED}`, () => {
  const all = draws();

  it('every point of a result keeps the distance and lies on the asked side', () => {
    for (const d of all) {
      const index = indexSegments(d.contour.segments);
      const isInsideWanted = areaMm2(d.contour) > 0 === d.distance > 0;
      for (const out of offsetContour(d.contour, d.distance)) {
        for (const s of out.segments) {
          for (const t of [0, 0.13, 0.5, 0.87]) {
            const p = pointAt(s, t);
            const error = Math.abs(plainDistance(d.contour, p) - Math.abs(d.distance));
            expect(error, tell(d, `off by ${error} at ${p.x}, ${p.y}`)).toBeLessThanOrEqual(DISTANCE_MM);
          }
          const middle = pointAt(s, 0.5);
          expect(index.isInside(middle), tell(d, `side at ${middle.x}, ${middle.y}`)).toBe(isInsideWanted);
        }
      }
    }
  });

  it('results are closed, joined end to end, run like the input and do not cross themselves', () => {
    for (const d of all) {
      const outs = offsetContour(d.contour, d.distance);
      const sense = Math.sign(areaMm2(d.contour));
      const isInward = sense === Math.sign(d.distance);
      for (const out of outs) {
        expect(out.isClosed, tell(d, 'open')).toBe(true);
        out.segments.forEach((s, i) => {
          expect(out.segments[(i + 1) % out.segments.length]!.from, tell(d, `gap after ${i}`)).toBe(s.to);
        });
        const crossings = selfIntersections(out, 1e-6);
        expect(crossings, tell(d, 'crosses itself')).toEqual([]);
      }
      const against = outs.filter((o) => Math.sign(areaMm2(o)) !== sense).length;
      // Growing leaves one outline; what it closes off inside runs the other way. Shrinking makes outlines only.
      if (isInward) expect(against, tell(d, 'sense')).toBe(0);
      else expect(outs.length - against, tell(d, 'outlines')).toBe(1);
    }
  });

  it('nothing is missing: every point at the distance that nothing comes nearer to is on a result', () => {
    for (const d of all) expectComplete(d, d.contour);
  });

  it('open contours: results keep the distance, stay open, and nothing is missing', () => {
    let kept = 0;
    for (const d of all) {
      const count = d.contour.segments.length;
      const open = contour(
        d.contour.segments.slice(0, Math.max(1, Math.floor(count * (0.2 + (0.7 * (d.seed % 7)) / 6)))),
        false,
      );
      const outs = offsetContour(open, d.distance);
      for (const out of outs) {
        expect(out.isClosed, tell(d, 'closed')).toBe(false);
        for (const s of out.segments) {
          for (const t of [0, 0.13, 0.5, 0.87, 1]) {
            const p = pointAt(s, t);
            const error = Math.abs(plainDistance(open, p) - Math.abs(d.distance));
            expect(error, tell(d, `off by ${error} at ${p.x}, ${p.y}`)).toBeLessThanOrEqual(DISTANCE_MM);
          }
        }
      }
      kept += outs.length;
      expectComplete(d, open);
    }
    expect(kept).toBeGreaterThan(COUNT / 2);
  });

  it('area agrees with a polygon library within its chords', () => {
    for (const d of all) {
      const outs = offsetContour(d.contour, d.distance);
      const ours = outs.reduce((sum, o) => sum + areaMm2(o), 0) * Math.sign(areaMm2(d.contour));
      const edge = lengthMm(d.contour) + outs.reduce((sum, o) => sum + lengthMm(o), 0);
      const theirs = polygonArea(d);
      const error = Math.abs(ours - theirs);
      expect(error, tell(d, `ours ${ours}, theirs ${theirs}`)).toBeLessThanOrEqual(2 * CHORD_MM * edge);
    }
  }, 300_000);

  it('convex shapes grow by A + P d + pi d²', () => {
    for (const d of all.filter((s) => s.isConvex)) {
      const sense = Math.sign(areaMm2(d.contour));
      const r = Math.abs(d.distance);
      const outs = offsetContour(d.contour, -sense * r);
      expect(outs.length, tell(d, 'parts')).toBe(1);
      const expected = Math.abs(areaMm2(d.contour)) + lengthMm(d.contour) * r + Math.PI * r * r;
      expect(Math.abs(Math.abs(areaMm2(outs[0]!)) - expected), tell(d, 'area')).toBeLessThanOrEqual(
        1e-11 * expected + 1e-9,
      );
    }
  });

  it('going out and coming back, and the other way round, returns contours whose radii allow it', () => {
    let checked = 0;
    for (const d of all.filter((s) => s.smallestRadiusMm > 0)) {
      const reach = 0.4 * d.smallestRadiusMm * Math.sign(d.distance);
      const there = offsetContour(d.contour, reach);
      // Narrow places between far parts may close; only undisturbed ones have to come back.
      if (there.length !== 1 || there[0]!.segments.length !== d.contour.segments.length) continue;
      const back = offsetContour(there[0]!, -reach);
      expect(back.length, tell(d, 'parts')).toBe(1);
      expect(back[0]!.segments.length, tell(d, 'segments')).toBe(d.contour.segments.length);
      expect(Math.abs(areaMm2(back[0]!) - areaMm2(d.contour)), tell(d, 'area')).toBeLessThanOrEqual(1e-8);
      expect(Math.abs(lengthMm(back[0]!) - lengthMm(d.contour)), tell(d, 'length')).toBeLessThanOrEqual(1e-9);
      checked++;
    }
    expect(checked).toBeGreaterThan(COUNT / 5);
  });
});
