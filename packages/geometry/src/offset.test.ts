import { describe, expect, it } from 'vitest';
import { areaMm2, type Contour, contour, contourBox, lengthMm, reverseContour } from './contour.js';
import { offsetContour } from './offset.js';
import type { Point } from './point.js';
import { arc, arcPieces, line, type Segment } from './segment.js';

/** Closed forms are met to a millionth of a micrometre. */
const EXACT_MM = 1e-9;
const ORIGINS: readonly Point[] = [
  { x: 0, y: 0 },
  { x: 500, y: -500 },
];

function polygon(points: readonly Point[]): Contour {
  return contour(
    points.map((p, i) => line(p, points[(i + 1) % points.length]!)),
    true,
  );
}

function rectangle(o: Point, width: number, height: number): Contour {
  return polygon([o, { x: o.x + width, y: o.y }, { x: o.x + width, y: o.y + height }, { x: o.x, y: o.y + height }]);
}

function circle(o: Point, radius: number): Contour {
  return contour(arcPieces(o, radius, 0.3, 2 * Math.PI), true);
}

function roundedRectangle(o: Point, width: number, height: number, r: number): Contour {
  const corners: [number, number, number][] = [
    [o.x + width - r, o.y + r, -Math.PI / 2],
    [o.x + width - r, o.y + height - r, 0],
    [o.x + r, o.y + height - r, Math.PI / 2],
    [o.x + r, o.y + r, Math.PI],
  ];
  const arcs = corners.map(([x, y, start]) => arcPieces({ x, y }, r, start, Math.PI / 2)[0]!);
  const segments: Segment[] = [];
  for (let i = 0; i < 4; i++) segments.push(arcs[i]!, line(arcs[i]!.to, arcs[(i + 1) % 4]!.from));
  return contour(segments, true);
}

function only(list: readonly Contour[]): Contour {
  expect(list.length).toBe(1);
  return list[0]!;
}

function expectExact(actual: number, expected: number, digits = EXACT_MM): void {
  expect(Math.abs(actual - expected), `${actual} beside ${expected}`).toBeLessThanOrEqual(digits);
}

describe.each(ORIGINS)('closed forms at $x, $y', (o) => {
  it.each([-20, -3, -0.05, 0.05, 2, 9.99])('circle by %d', (d) => {
    const out = only(offsetContour(circle(o, 10), d));
    const r = 10 - d;
    expectExact(lengthMm(out), 2 * Math.PI * r);
    expectExact(areaMm2(out), Math.PI * r * r, 4e-9);
    const box = contourBox(out);
    expectExact(box.maxX - o.x, r);
    expectExact(box.minY - o.y, -r);
    expect(out.segments.every((s) => s.kind === 'arc' && s.centre.x === o.x && s.radiusMm === r)).toBe(true);
  });

  it('circle vanishes at and beyond its radius', () => {
    expect(offsetContour(circle(o, 10), 10)).toEqual([]);
    expect(offsetContour(circle(o, 10), 13)).toEqual([]);
    expect(offsetContour(circle(o, 10), 200)).toEqual([]);
  });

  it.each([0.05, 1, 9.5])('rectangle in by %d', (d) => {
    const out = only(offsetContour(rectangle(o, 60, 20), d));
    expect(out.segments.length).toBe(4);
    expectExact(areaMm2(out), (60 - 2 * d) * (20 - 2 * d));
    expectExact(contourBox(out).minX, o.x + d);
  });

  it.each([0.05, 1, 20])('rectangle out by %d', (d) => {
    const out = only(offsetContour(rectangle(o, 60, 20), -d));
    expect(out.segments.map((s) => s.kind).sort()).toEqual([
      'arc',
      'arc',
      'arc',
      'arc',
      'line',
      'line',
      'line',
      'line',
    ]);
    expectExact(areaMm2(out), 1200 + 160 * d + Math.PI * d * d);
    expectExact(lengthMm(out), 160 + 2 * Math.PI * d);
    expectExact(contourBox(out).maxY, o.y + 20 + d);
  });

  it.each([0.1, 2, 2.999, 3, 3.001, 8])('rectangle with 3 mm corners in by %d', (d) => {
    const out = only(offsetContour(roundedRectangle(o, 40, 20, 3), d));
    const r = Math.max(0, 3 - d);
    expect(out.segments.length).toBe(r === 0 ? 4 : 8);
    expectExact(areaMm2(out), (40 - 2 * d) * (20 - 2 * d) - (4 - Math.PI) * r * r);
  });

  it.each([0.5, 4, 4.9])('stadium in and out by %d', (d) => {
    const stadium = contour(
      [
        line(o, { x: o.x + 30, y: o.y }),
        arc({ x: o.x + 30, y: o.y }, { x: o.x + 30, y: o.y + 10 }, { x: o.x + 30, y: o.y + 5 }, Math.PI),
        line({ x: o.x + 30, y: o.y + 10 }, { x: o.x, y: o.y + 10 }),
        arc({ x: o.x, y: o.y + 10 }, o, { x: o.x, y: o.y + 5 }, Math.PI),
      ],
      true,
    );
    for (const signed of [d, -d]) {
      const r = 5 - signed;
      const out = only(offsetContour(stadium, signed));
      expect(out.segments.length).toBe(4);
      expectExact(areaMm2(out), 60 * r + Math.PI * r * r);
    }
    // At the radius only the middle line is left, walked there and back.
    const collapsed = only(offsetContour(stadium, 5));
    expectExact(areaMm2(collapsed), 0);
    expectExact(lengthMm(collapsed), 60);
    expect(offsetContour(stadium, 5.1)).toEqual([]);
  });

  it.each([3, 5, 17, 100])('regular polygon with %d corners follows A + P d + pi d²', (n) => {
    const points = Array.from({ length: n }, (_, i) => ({
      x: o.x + 25 * Math.cos((2 * Math.PI * i) / n),
      y: o.y + 25 * Math.sin((2 * Math.PI * i) / n),
    }));
    const c = polygon(points);
    for (const d of [0.05, 1, 20]) {
      const expected = areaMm2(c) + lengthMm(c) * d + Math.PI * d * d;
      expectExact(areaMm2(only(offsetContour(c, -d))), expected, 4e-9);
      expectExact(areaMm2(only(offsetContour(reverseContour(c), d))), -expected, 4e-9);
    }
  });

  it('splits a dumbbell and keeps both chambers', () => {
    const at = (x: number, y: number): Point => ({ x: o.x + x, y: o.y + y });
    const c = polygon([
      at(0, 0),
      at(20, 0),
      at(20, 8),
      at(30, 8),
      at(30, 0),
      at(50, 0),
      at(50, 20),
      at(30, 20),
      at(30, 12),
      at(20, 12),
      at(20, 20),
      at(0, 20),
    ]);
    const out = offsetContour(c, 3);
    expect(out.length).toBe(2);
    // Each chamber reaches into the neck up to where the round joins of its two mouth corners meet.
    const bulge = 2 * (6 - Math.sqrt(5) - 4.5 * Math.asin(2 / 3));
    for (const part of out) expectExact(areaMm2(part), 14 * 14 + bulge);
    // Neck exactly as wide as twice the distance: still one path, the neck walked both ways.
    const kept = only(offsetContour(c, 2));
    expectExact(areaMm2(kept), 2 * (16 * 16 + 2 * (4 - Math.PI)));
    expectExact(lengthMm(kept), 2 * (60 + 2 * Math.PI) + 2 * 10);
  });
});

describe('awkward input', () => {
  it('ignores repeated points', () => {
    const p: Point[] = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 0 },
      { x: 10, y: 10 },
      { x: 0, y: 10 },
      { x: 0, y: 10 },
    ];
    expectExact(areaMm2(only(offsetContour(polygon(p), 1))), 64);
    expectExact(areaMm2(only(offsetContour(polygon(p), -1))), 100 + 40 + Math.PI);
  });

  it('rounds the tip of a line that runs out and straight back', () => {
    const there = contour([line({ x: 0, y: 0 }, { x: 10, y: 0 }), line({ x: 10, y: 0 }, { x: 0, y: 0 })], false);
    for (const d of [1, -1]) expectExact(lengthMm(only(offsetContour(there, d))), 20 + Math.PI);
  });

  it('offsets a single open arc concentrically and drops it when it collapses', () => {
    const open = contour([arc({ x: 5, y: 0 }, { x: -5, y: 0 }, { x: 0, y: 0 }, Math.PI)], false);
    expectExact(lengthMm(only(offsetContour(open, 2))), 3 * Math.PI);
    expectExact(lengthMm(only(offsetContour(open, -2))), 7 * Math.PI);
    expect(offsetContour(open, 5)).toEqual([]);
    expect(offsetContour(open, 6)).toEqual([]);
  });

  it('gives nothing for nothing', () => {
    expect(offsetContour(contour([], true), 1)).toEqual([]);
    const dot = contour([line({ x: 1, y: 1 }, { x: 1, y: 1 })], true);
    expect(offsetContour(dot, 1)).toEqual([]);
  });
});
