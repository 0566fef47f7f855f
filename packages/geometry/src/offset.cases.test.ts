import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { areaMm2, type Contour, contour, contourBox, lengthMm, reverseContour, startAt } from './contour.js';
import { OFFSET_MERGE_MM, offsetContour } from './offset.js';
import { bulgeSegments, type Segment } from './segment.js';

interface Expected {
  area: number;
  pathLength: number;
  bbox: [[number, number], [number, number]];
}
interface Case {
  name: string;
  closed: boolean;
  vertices_x_y_bulge: [number, number, number][];
  offset: number;
  expected: Expected[];
}

const file = new URL('../../../fixtures/offset/arc-polyline-offset-cases.json', import.meta.url);
const { cases } = JSON.parse(readFileSync(file, 'utf8')) as { cases: Case[] };

function polylineContour(vertices: readonly (readonly [number, number, number])[], closed: boolean): Contour {
  const segments: Segment[] = [];
  const count = closed ? vertices.length : vertices.length - 1;
  for (let i = 0; i < count; i++) {
    const [x, y, bulge] = vertices[i]!;
    const [tx, ty] = vertices[(i + 1) % vertices.length]!;
    segments.push(...bulgeSegments({ x, y }, { x: tx, y: ty }, bulge));
  }
  return contour(segments, closed);
}

type Row = [number, number, number, number, number, number];

function row(area: number, length: number, box: readonly number[]): Row {
  return [area, length, ...box] as Row;
}

const byNumbers = (a: Row, b: Row): number => {
  for (let i = 1; i < 6; i++) if (Math.abs(a[i]! - b[i]!) > 1e-4) return a[i]! - b[i]!;
  return 0;
};

/**
 * The reference was made with points merged coarsely and leaves out the end segments of 15 to 31 nm in this case; it is
 * met when those count as points here, too.
 */
const MERGE_MM: Record<string, number> = { open_pline5: 5e-5 };

function expectCase(
  c: Contour,
  distance: number,
  expected: readonly Expected[],
  areaSign: number,
  mergeMm = OFFSET_MERGE_MM,
): void {
  const ours = offsetContour(c, distance, { mergeMm })
    .map((o) => {
      const b = contourBox(o);
      return row(areaMm2(o), lengthMm(o), [b.minX, b.minY, b.maxX, b.maxY]);
    })
    .sort(byNumbers);
  const theirs = expected.map((e) => row(e.area * areaSign, e.pathLength, e.bbox.flat())).sort(byNumbers);
  expect(ours.length, JSON.stringify({ ours, theirs })).toBe(theirs.length);
  for (let i = 0; i < ours.length; i++) {
    for (let k = 0; k < 6; k++) {
      // 1e-5 as stated with the data, relative for the large ones.
      const allowed = 1e-5 * Math.max(1, Math.abs(theirs[i]![k]!) * 1e-2);
      expect(Math.abs(ours[i]![k]! - theirs[i]![k]!), JSON.stringify({ ours, theirs })).toBeLessThanOrEqual(allowed);
    }
  }
}

describe('offset reference cases', () => {
  expect(cases.length).toBe(51);
  for (const c of cases) {
    const given = polylineContour(c.vertices_x_y_bulge, c.closed);
    it(c.name, () => expectCase(given, c.offset, c.expected, 1, MERGE_MM[c.name]));
    it(`${c.name}, walked the other way`, () =>
      expectCase(reverseContour(given), -c.offset, c.expected, -1, MERGE_MM[c.name]));
    if (!c.closed) continue;
    it(`${c.name}, every other start`, () => {
      for (let i = 1; i < given.segments.length; i++) expectCase(startAt(given, i), c.offset, c.expected, 1);
    });
  }
});
