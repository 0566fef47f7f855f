import {
  arcPieces,
  bulgeSegments,
  type Contour,
  contour,
  lengthMm,
  line,
  nearestPoint,
  type Point,
  pointAt,
} from '@gapwright/geometry';
import type { ICircleEntity, ILwpolylineEntity } from 'dxf-parser';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDxf } from '../dxf/read-dxf.js';
import { profileFromDrawing } from '../profile/profile-from-drawing.js';
import { encode } from '../testing/dxf-text.js';
import { parseWithOther } from '../testing/other-parser.js';
import { writeDxf } from './write-dxf.js';

function reread(text: string): readonly Contour[] {
  const read = readDxf(encode(text));
  if (read.value === null) throw new Error(read.problems[0]?.message);
  const { value, problems } = profileFromDrawing(read.value, { joinMm: 0 });
  if (value === null) throw new Error(problems[0]?.message);
  return value.contours.map((c) => c.contour);
}

/** A star-shaped closed contour of lines and arcs, which never crosses itself. */
const starContours = fc
  .array(
    fc.record({
      radius: fc.double({ min: 5, max: 9, noNaN: true }),
      bulge: fc.double({ min: -0.1, max: 0.1, noNaN: true }),
    }),
    {
      minLength: 5,
      maxLength: 30,
    },
  )
  .map((spokes) => {
    const at = (i: number): Point => {
      const angle = (2 * Math.PI * (i % spokes.length)) / spokes.length;
      const { radius } = spokes[i % spokes.length]!;
      return { x: 100 / 3 + radius * Math.cos(angle), y: -7 + radius * Math.sin(angle) };
    };
    const segments = spokes.flatMap(({ bulge }, i) =>
      bulgeSegments(at(i), at(i + 1), Math.abs(bulge) < 1e-3 ? 0 : bulge),
    );
    return contour(segments, true);
  });

const ROUND = contour(arcPieces({ x: 1 / 3, y: 2 }, 4.1, 0.3, 2 * Math.PI), true);
const OPEN = contour([line({ x: 0, y: 0 }, { x: 1 / 7, y: 3 }), line({ x: 1 / 7, y: 3 }, { x: 5, y: 5 })], false);

describe('writeDxf', () => {
  it('reads back to the same geometry', () => {
    fc.assert(
      fc.property(starContours, (c) => {
        const [back] = reread(writeDxf([{ name: 'CUT', contours: [c] }]).value!);
        expect(back!.isClosed).toBe(true);
        expect(back!.segments.length).toBe(c.segments.length);
        expect(Math.abs(lengthMm(back!) - lengthMm(c))).toBeLessThan(1e-9);
        c.segments.forEach((s, i) => {
          for (const t of [0, 0.3, 0.8])
            expect(nearestPoint(back!.segments[i]!, pointAt(s, t)).distanceMm).toBeLessThan(1e-9);
        });
      }),
      { numRuns: 60 },
    );
  });

  it('writes a full circle as a circle and open contours open, in mm, on their layers', () => {
    const text = writeDxf([
      { name: 'Schnitt äöü', colour: 3, contours: [ROUND] },
      { name: '0', contours: [OPEN] },
    ]).value!;
    const { value } = readDxf(encode(text));
    expect(value!.insertUnits).toBe(4);
    expect(value!.entities.map((e) => [e.kind, e.layer])).toEqual([
      ['circle', 'Schnitt äöü'],
      ['polyline', '0'],
    ]);
    expect(value!.layers.find((l) => l.name === 'Schnitt äöü')?.colour).toBe(3);
    const [, open] = reread(text);
    expect(open).toEqual(OPEN);
  });

  it('is read by dxf-parser to the same numbers', () => {
    const text = writeDxf([{ name: 'CUT', contours: [ROUND, OPEN] }]).value!;
    const parsed = parseWithOther(text)!;
    const [round, open] = parsed.entities as unknown as [ICircleEntity, ILwpolylineEntity];
    expect([round.center.x, round.center.y, round.radius]).toEqual([1 / 3, 2, 4.1]);
    expect(open.vertices.map((v) => [v.x, v.y])).toEqual([
      [0, 0],
      [1 / 7, 3],
      [5, 5],
    ]);
  });

  it.each(['', 'a/b', 'a\nb', 'x*'])('refuses the layer name %j', (name) => {
    const { value, problems } = writeDxf([{ name, contours: [] }]);
    expect(value).toBeNull();
    expect(problems[0]).toMatchObject({ code: 'DXF-LAYER-NAME', severity: 'stop' });
  });

  it('refuses a layer given twice and coordinates that are no numbers', () => {
    const bad = contour([line({ x: 0, y: Number.NaN }, { x: 1, y: 1 })], false);
    const { problems } = writeDxf([
      { name: 'A', contours: [] },
      { name: 'a', contours: [bad] },
    ]);
    expect(problems.map((p) => p.code)).toEqual(['DXF-LAYER-TWICE', 'DXF-NOT-FINITE']);
  });
});
