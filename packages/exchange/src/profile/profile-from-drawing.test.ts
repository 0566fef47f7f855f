import { areaMm2, distanceMm, lengthMm, type Point, pointAt } from '@gapwright/geometry';
import { describe, expect, it } from 'vitest';
import { readDxf } from '../dxf/read-dxf.js';
import { block, circle, dxfText, encode, insert, line, polyline, type Tag } from '../testing/dxf-text.js';
import { type ProfileOptions, profileFromDrawing } from './profile-from-drawing.js';

type Parts = Parameters<typeof dxfText>[0];

function profile(parts: Parts, options: ProfileOptions = {}) {
  const { value, problems } = readDxf(encode(dxfText(parts)));
  if (value === null) throw new Error(problems[0]?.message);
  return profileFromDrawing(value, options);
}

const SQUARE: (readonly [number, number])[] = [
  [0, 0],
  [10, 0],
  [10, 10],
  [0, 10],
];

const codes = (problems: readonly { code: string }[]): string[] => problems.map((p) => p.code);

describe('units', () => {
  it.each([
    [1, 25.4],
    [2, 304.8],
    [4, 1],
    [5, 10],
    [6, 1000],
    [13, 0.001],
  ])('scales $INSUNITS %d by %d', (units, mm) => {
    const { value } = profile({ units, entities: circle(1, 2, 0.5) });
    expect(lengthMm(value!.contours[0]!.contour)).toBeCloseTo(Math.PI * mm, 9);
    expect(value!.unitsAssumed).toBe(false);
  });

  it('assumes mm aloud when the file says nothing', () => {
    const { value, problems } = profile({ units: 0, entities: circle(0, 0, 5) });
    expect(value).toMatchObject({ units: 'mm', unitsAssumed: true });
    expect(problems).toMatchObject([{ code: 'DXF-UNITS-ASSUMED', severity: 'warn' }]);
  });

  it('takes the units asked for over those of the file', () => {
    const { value, problems } = profile({ units: 4, entities: circle(0, 0, 1) }, { units: 'in' });
    expect(value!.boxMm.maxX).toBeCloseTo(25.4, 12);
    expect(problems).toEqual([]);
  });

  it('stops at units no part is drawn in', () => {
    expect(codes(profile({ units: 3, entities: circle(0, 0, 1) }).problems)).toEqual(['DXF-UNITS-UNKNOWN']);
  });

  it('doubts the units of a part 100 m across', () => {
    const { problems } = profile({ units: 6, entities: circle(0, 0, 50) });
    expect(codes(problems)).toEqual(['DXF-UNITS-DOUBTFUL']);
  });
});

describe('contours', () => {
  it('chains loose lines and lists the gap it closes', () => {
    const entities = [...line(0, 0, 10, 0), ...line(10, 10, 10.004, 0), ...line(10, 10, 0, 0)];
    const { value } = profile({ entities });
    expect(value!.contours).toHaveLength(1);
    expect(value!.contours[0]!.contour.isClosed).toBe(true);
    expect(value!.repairs).toMatchObject([{ kind: 'gap closed', layer: 'CUT' }]);
    expect(value!.repairs[0]!.sizeMm).toBeCloseTo(0.004, 9);
  });

  it('leaves a wide gap open and says so', () => {
    const entities = [...line(0, 0, 10, 0), ...line(10, 10, 10.4, 0), ...line(10, 10, 0, 0)];
    const { value, problems } = profile({ entities });
    expect(value!.contours[0]!.contour.isClosed).toBe(false);
    expect(value!.repairs).toEqual([]);
    expect(problems).toMatchObject([{ code: 'DXF-CONTOUR-OPEN', severity: 'warn' }]);
  });

  it('stops at a contour that crosses itself, with the place', () => {
    const { value, problems } = profile({
      entities: polyline([
        [0, 0],
        [10, 10],
        [10, 0],
        [0, 10],
      ]),
    });
    expect(value!.contours).toHaveLength(1);
    expect(problems).toMatchObject([
      { code: 'DXF-CONTOUR-CROSSES-ITSELF', severity: 'stop', at: { layer: 'CUT', xMm: 5, yMm: 5 } },
    ]);
  });

  it('removes an equal copy aloud and warns of a near one', () => {
    const copies = [...circle(0, 0, 5), ...circle(0, 0, 5), ...circle(0.01, 0, 5)];
    const { value, problems } = profile({ entities: copies });
    expect(value!.contours).toHaveLength(2);
    expect(value!.repairs).toMatchObject([{ kind: 'duplicate removed' }]);
    expect(codes(problems)).toEqual(['DXF-NEAR-DUPLICATE']);
  });

  it('does not chain over layers', () => {
    const entities = [...line(0, 0, 10, 0, 'A'), ...line(10, 0, 10, 10, 'B')];
    expect(profile({ entities }).value!.contours.map((c) => c.layer)).toEqual(['A', 'B']);
  });

  it('stops when nothing can be cut, naming what was left out', () => {
    const { value, problems } = profile({
      entities: [
        [0, 'TEXT'],
        [8, 'NOTES'],
      ],
    });
    expect(value).toBeNull();
    expect(problems[0]).toMatchObject({ code: 'DXF-NOTHING-TO-CUT', severity: 'stop' });
    expect(problems[0]!.message).toContain('1 TEXT on layer NOTES');
  });

  it('fits an ellipse within the tolerance and reports by how much', () => {
    const ellipse: Tag[] = [
      [0, 'ELLIPSE'],
      [8, 'CUT'],
      [10, 5],
      [20, 5],
      [11, 8],
      [21, 6],
      [40, 0.4],
    ];
    const { value } = profile({ entities: ellipse }, { fitMm: 0.001 });
    const [c] = value!.contours;
    expect(c!.contour.isClosed).toBe(true);
    expect(c!.fittedDeviationMm).toBeGreaterThan(0);
    expect(c!.fittedDeviationMm).toBeLessThanOrEqual(0.001);
    // Exact extents of an ellipse with half axes u and v: sqrt(ux² + vx²).
    expect(value!.boxMm.maxX).toBeCloseTo(5 + Math.sqrt(8 * 8 + (6 * 0.4) ** 2), 2);
    expect(areaMm2(c!.contour)).toBeCloseTo(Math.PI * 10 * 4, 1);
  });
});

describe('layers', () => {
  const layers: Tag[] = [
    [0, 'LAYER'],
    [2, 'CUT'],
    [70, 0],
    [62, 1],
    [0, 'LAYER'],
    [2, 'Frozen'],
    [70, 1],
    [62, 7],
    [0, 'LAYER'],
    [2, 'Off'],
    [70, 0],
    [62, -3],
  ];
  const entities = [...circle(0, 0, 1), ...circle(5, 0, 1, 'FROZEN'), ...circle(9, 0, 1, 'off')];

  it('leaves out frozen layers and layers that are off, in any case, and lists them', () => {
    const { value } = profile({ layers, entities });
    expect(value!.contours).toHaveLength(1);
    expect(value!.skipped.map((s) => [s.kind, s.layer, s.reason])).toEqual([
      ['CIRCLE', 'FROZEN', 'lies on a frozen layer'],
      ['CIRCLE', 'off', 'lies on a layer that is off'],
    ]);
  });

  it('takes only the layers chosen', () => {
    const two = [...circle(0, 0, 1, 'A'), ...circle(5, 0, 1, 'B')];
    const { value } = profile({ entities: two }, { layers: ['b'] });
    expect(value!.contours.map((c) => c.layer)).toEqual(['B']);
    expect(value!.skipped[0]).toMatchObject({ kind: 'CIRCLE', layer: 'A', count: 1 });
  });
});

/** Centre and radius of every contour, which must be circles of arcs. */
function circles(contours: readonly { contour: { segments: readonly unknown[] } }[]): (Point & { r: number })[] {
  return contours.map(({ contour }) => {
    const [s] = contour.segments as { kind: string; centre: Point; radiusMm: number }[];
    if (s?.kind !== 'arc') throw new Error('no arc');
    return { ...s.centre, r: s.radiusMm };
  });
}

describe('blocks', () => {
  it('places, turns, scales and mirrors exactly', () => {
    const blocks = block('B', circle(2, 1, 0.5, '0'));
    const { value } = profile({ blocks, entities: insert('B', 10, 20, [41, -2], [42, 2], [50, 90]) });
    // (2, 1) scaled to (-4, 2), turned to (-2, -4), moved to (8, 16).
    const [c] = circles(value!.contours);
    expect(c!.x).toBeCloseTo(8, 12);
    expect(c!.y).toBeCloseTo(16, 12);
    expect(c!.r).toBeCloseTo(1, 12);
    expect(value!.contours[0]!.layer).toBe('CUT');
  });

  it('subtracts the base point and sees inserts from behind', () => {
    const blocks: Tag[] = [[0, 'BLOCK'], [2, 'B'], [10, 1], [20, 1], ...circle(2, 1, 0.5), [0, 'ENDBLK']];
    const { value } = profile({ blocks, entities: insert('B', 10, 20, [210, 0], [220, 0], [230, -1]) });
    expect(circles(value!.contours)).toEqual([{ x: -11, y: 20, r: 0.5 }]);
  });

  it('turns the steps of an array but does not scale them', () => {
    const blocks = block('B', circle(0, 0, 0.1));
    const array = insert('B', 1, 1, [41, 3], [42, 3], [50, 90], [70, 2], [71, 2], [44, 10], [45, 5]);
    const { value } = profile({ blocks, entities: array });
    const places = circles(value!.contours).map((c) => [Math.round(c.x * 1e9) / 1e9, Math.round(c.y * 1e9) / 1e9]);
    expect(places).toEqual([
      [1, 1],
      [1, 11],
      [-4, 1],
      [-4, 11],
    ]);
  });

  it('makes an ellipse of an arc that is stretched', () => {
    const blocks = block('B', circle(0, 0, 1));
    const { value } = profile({ blocks, entities: insert('B', 0, 0, [41, 5], [42, 2]) });
    const [c] = value!.contours;
    expect(c!.fittedDeviationMm).toBeGreaterThan(0);
    for (const s of c!.contour.segments) {
      const p = pointAt(s, 0.5);
      expect(Math.abs(Math.sqrt((p.x / 5) ** 2 + (p.y / 2) ** 2) - 1) * 5).toBeLessThan(0.002);
    }
  });

  it('keeps the bulge side of mirrored polylines', () => {
    const half: (readonly [number, number, number?])[] = [
      [0, 0, 1],
      [4, 0],
    ];
    const blocks = block('B', polyline(half));
    const { value } = profile({ blocks, entities: insert('B', 0, 0, [41, -1]) });
    // A half circle below the x axis stays below when x is mirrored.
    expect(value!.boxMm).toMatchObject({ minX: -4, maxX: 0 });
    expect(value!.boxMm.minY).toBeCloseTo(-2, 12);
    expect(value!.boxMm.maxY).toBeCloseTo(0, 12);
  });

  it('refuses an array that explodes, before it does', () => {
    const blocks = [
      ...block('A', circle(0, 0, 1)),
      ...block('B', insert('A', 0, 0, [70, 30000], [71, 30000])),
      ...block('C', insert('B', 0, 0, [70, 30000], [71, 30000])),
    ];
    const { value, problems } = profile({ blocks, entities: insert('C', 0, 0) });
    expect(value).toBeNull();
    expect(codes(problems)).toEqual(['DXF-TOO-MANY-COPIES']);
  });

  it('gives entities on layer 0 the layer of the insert, and hides them with it', () => {
    const layers: Tag[] = [
      [0, 'LAYER'],
      [2, 'CUT'],
      [70, 0],
      [62, -1],
    ];
    const blocks = block('B', [...circle(0, 0, 1, '0'), ...circle(5, 0, 1, 'OWN')]);
    const { value } = profile({ layers, blocks, entities: insert('B', 0, 0) });
    expect(value!.contours.map((c) => c.layer)).toEqual(['OWN']);
  });
});

describe('scribbles', () => {
  it('refuses a tangle instead of searching it for hours', () => {
    const points = Array.from({ length: 20_000 }, (_, i): [number, number] => [(i * 7919) % 1009, (i * 104729) % 997]);
    const { value, problems } = profile({ entities: polyline(points) });
    expect(value).toBeNull();
    expect(codes(problems)).toEqual(['DXF-TOO-TANGLED']);
  });

  it('keeps a closed square of 40,000 short lines exact', () => {
    const points = Array.from({ length: 40_000 }, (_, i): [number, number] => {
      const side = Math.floor(i / 10_000);
      const t = (i % 10_000) / 1000;
      const [x, y] = SQUARE[side]!;
      const [nx, ny] = SQUARE[(side + 1) % 4]!;
      return [x + ((nx - x) / 10) * t, y + ((ny - y) / 10) * t];
    });
    const { value } = profile({ entities: polyline(points) });
    expect(areaMm2(value!.contours[0]!.contour)).toBeCloseTo(100, 9);
    expect(distanceMm(value!.contours[0]!.contour.segments[0]!.from, { x: 0, y: 0 })).toBe(0);
  });
});
