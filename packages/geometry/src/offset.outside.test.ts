import { readFileSync } from 'node:fs';
import { seededRandom } from '@gapwright/base';
import { outsideCheck } from '@gapwright/base/testing';
import { Clipper, EndType, JoinType } from 'clipper2-ts';
import { describe, it } from 'vitest';
import { areaMm2, type Contour, contour, contourBox, lengthMm, reverseContour } from './contour.js';
import { offsetContour } from './offset.js';
import { bulgeSegments } from './segment.js';
import { chordPoints } from './testing/chords.js';
import { gear, sampleContour } from './testing/sample-contours.js';

interface Case {
  name: string;
  closed: boolean;
  vertices_x_y_bulge: [number, number, number][];
  offset: number;
  expected: { area: number; pathLength: number; bbox: [[number, number], [number, number]] }[];
}

const file = new URL('../../../fixtures/offset/arc-polyline-offset-cases.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] };

function given(c: Case): Contour {
  const v = c.vertices_x_y_bulge;
  const count = c.closed ? v.length : v.length - 1;
  const segments = Array.from({ length: count }, (_, i) => {
    const [x, y, bulge] = v[i]!;
    const [tx, ty] = v[(i + 1) % v.length]!;
    return bulgeSegments({ x, y }, { x: tx, y: ty }, bulge);
  });
  return contour(segments.flat(), c.closed);
}

const total = (list: readonly number[]): number => list.reduce((a, b) => a + b, 0);

/** Area of the offset of a counter-clockwise contour by a polygon library fed with chords. */
function polygonArea(c: Contour, distance: number, chordMm: number): number {
  const path = chordPoints(c, chordMm).map((p) => ({ x: p.x, y: p.y }));
  const out = Clipper.inflatePathsD([path], -distance, JoinType.Round, EndType.Polygon, 2, 6, chordMm);
  return Clipper.areaPathsD(out);
}

describe('offsets beside other libraries', () => {
  it('51 reference offsets', () => {
    let worst = 0;
    for (const c of cases) {
      // One case was made with short end segments merged away; see the case test.
      const outs = offsetContour(given(c), c.offset, c.name === 'open_pline5' ? { mergeMm: 5e-5 } : {});
      worst = Math.max(
        worst,
        Math.abs(outs.length - c.expected.length),
        Math.abs(total(outs.map(lengthMm)) - total(c.expected.map((e) => e.pathLength))) / 100,
        Math.abs(total(outs.map((o) => contourBox(o).maxX)) - total(c.expected.map((e) => e.bbox[1][0]))),
      );
    }
    outsideCheck({
      id: 'offset-51-cases',
      what: 'largest difference in count, length (per 100 mm) or right edge of 51 line/arc offsets',
      ours: worst,
      theirs: 0,
      unit: 'mm',
      allowed: 1e-5,
      why: 'the cases state their numbers to 1e-5',
      source: 'cavalier_contours tests, test_pline_parallel_offset.rs',
      standing: 'library',
    });
  });

  it('200 random contours, area', () => {
    let worst = 0;
    for (let i = 0; i < 200; i++) {
      const random = seededRandom(90_000 + i);
      const { contour: drawn } = sampleContour(random);
      const c = areaMm2(drawn) > 0 ? drawn : reverseContour(drawn);
      const distance = (random.below(2) === 0 ? 1 : -1) * 0.05 * 100 ** random.uniform();
      const outs = offsetContour(c, distance);
      const edge = lengthMm(c) + total(outs.map(lengthMm));
      worst = Math.max(worst, Math.abs(total(outs.map(areaMm2)) - polygonArea(c, distance, 5e-4)) / edge);
    }
    outsideCheck({
      id: 'offset-area-polygons',
      what: 'largest area difference of 200 random offsets per length of edge',
      ours: worst,
      theirs: 0,
      unit: 'mm',
      allowed: 1e-3,
      why: 'the library works with chords of 0.5 µm on both curves',
      source: 'clipper2-ts 2.0.1, inflatePathsD, 6 decimals',
      standing: 'library',
    });
  });

  it.each([0.15, -0.15, 0.6])('gear of 40 teeth by %d mm', (distance) => {
    const c = gear(40, 30, 27, 0.1);
    const ours = total(offsetContour(c, distance).map(areaMm2));
    outsideCheck({
      id: `offset-gear-40 ${distance}`,
      what: `area of a 40-tooth gear with 0.1 mm corners offset by ${distance} mm`,
      ours,
      theirs: polygonArea(c, distance, 1e-4),
      unit: 'mm²',
      allowed: 1e-4 * 2 * lengthMm(c),
      why: 'chords of 0.1 µm along both curves',
      source: 'clipper2-ts 2.0.1, inflatePathsD, 6 decimals',
      standing: 'library',
    });
  });
});
