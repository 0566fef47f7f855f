import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { chainSegments, isConnected } from './chain.js';
import type { LoosePiece } from './chain-types.js';
import { areaMm2, type Contour, contour, lengthMm } from './contour.js';
import { distanceMm, type Point } from './point.js';
import { type ArcSegment, arcPieces, bulgeSegments, line, pointAt, reverseSegment, type Segment } from './segment.js';

const OPTIONS = { mergeMm: 1e-4, joinMm: 0.02 };
const at = (x: number, y: number): Point => ({ x, y });
const loose = (segments: readonly Segment[]): LoosePiece<number>[] =>
  segments.map((s, i) => ({ segments: [s], tag: i }));

function polygon(points: readonly Point[]): Segment[] {
  return points.map((p, i) => line(p, points[(i + 1) % points.length]!));
}
const SQUARE = polygon([at(0, 0), at(10, 0), at(10, 10), at(0, 10)]);

/** A closed stadium-like contour with arcs, as loose segments. */
function slot(length: number, width: number): Segment[] {
  return [
    line(at(0, 0), at(length, 0)),
    ...bulgeSegments(at(length, 0), at(length, width), 1),
    line(at(length, width), at(0, width)),
    ...bulgeSegments(at(0, width), at(0, 0), 1),
  ];
}

/** Largest distance of an arc's ends from its circle, mm. */
function arcFaultMm(c: Contour): number {
  let worst = 0;
  for (const s of c.segments) {
    if (s.kind !== 'arc') continue;
    for (const p of [s.from, s.to]) worst = Math.max(worst, Math.abs(distanceMm(s.centre, p) - s.radiusMm));
  }
  return worst;
}

describe('chainSegments', () => {
  it('finds the contour whatever order and direction the pieces have', () => {
    const shapes = fc.constantFrom(SQUARE, slot(12, 3), slot(0.5, 40));
    fc.assert(
      fc.property(shapes, fc.array(fc.nat(), { minLength: 8, maxLength: 8 }), fc.nat(255), (segments, keys, flips) => {
        const pieces = loose(segments.map((s, i) => ((flips >> i) & 1 ? reverseSegment(s) : s)))
          .map((piece, i) => ({ piece, key: keys[i % 8]! }))
          .sort((a, b) => a.key - b.key)
          .map(({ piece }) => piece);
        const { contours, repairs, problems } = chainSegments(pieces, OPTIONS);
        expect(repairs).toEqual([]);
        expect(problems).toEqual([]);
        expect(contours).toHaveLength(1);
        const c = contours[0]!;
        expect(c.isClosed).toBe(true);
        expect(isConnected(c)).toBe(true);
        expect([...c.tags].sort()).toEqual(segments.map((_, i) => i));
        expect(Math.abs(areaMm2(c))).toBeCloseTo(Math.abs(areaMm2(contour(segments, true))), 9);
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  it('joins ends within the merge distance silently and exactly', () => {
    const noisy = slot(12, 3).map((s, i) => ({ ...s, from: at(s.from.x + 4e-5 * (i % 2), s.from.y - 3e-5) }));
    const { contours, repairs } = chainSegments(loose(noisy), OPTIONS);
    expect(repairs).toEqual([]);
    expect(contours).toHaveLength(1);
    expect(isConnected(contours[0]!)).toBe(true);
    expect(arcFaultMm(contours[0]!)).toBeLessThan(OPTIONS.mergeMm);
  });

  it('closes a gap between lines at their crossing and lists it', () => {
    const gapped = [line(at(0, 0), at(9.99, 0)), ...SQUARE.slice(1)];
    const { contours, repairs } = chainSegments(loose(gapped), OPTIONS);
    expect(repairs).toHaveLength(1);
    expect(repairs[0]).toMatchObject({ kind: 'gap closed' });
    expect(repairs[0]!.sizeMm).toBeCloseTo(0.01, 9);
    expect([...repairs[0]!.tags].sort()).toEqual([0, 1]);
    expect(areaMm2(contours[0]!)).toBeCloseTo(100, 9);
    expect(isConnected(contours[0]!)).toBe(true);
  });

  it('moves a line rather than an arc, and bends arcs only where arc meets arc', () => {
    const s = slot(12, 3);
    const gapped = [{ ...s[0]!, to: at(11.985, 0) }, ...s.slice(1)];
    const c = chainSegments(loose(gapped), OPTIONS).contours[0]!;
    expect(c.segments[0]!.to).toEqual(at(12, 0));
    expect(c.segments[1]).toEqual(s[1]);

    const ring = arcPieces(at(5, 5), 4, 0.4, 2 * Math.PI - 0.004);
    const closed = chainSegments(loose(ring), OPTIONS);
    expect(closed.repairs.map((r) => r.kind)).toEqual(['gap closed']);
    expect(closed.repairs[0]!.sizeMm).toBeCloseTo(8 * Math.sin(0.002), 9);
    expect(closed.contours[0]!.isClosed).toBe(true);
    expect(isConnected(closed.contours[0]!)).toBe(true);
    expect(arcFaultMm(closed.contours[0]!)).toBeLessThan(1e-9);
  });

  it('never closes a gap wider than allowed', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.0201, max: 3, noNaN: true }), (gap) => {
        const { contours, repairs } = chainSegments(
          loose([line(at(0, 0), at(10 - gap, 0)), ...SQUARE.slice(1)]),
          OPTIONS,
        );
        expect(repairs).toEqual([]);
        expect(contours[0]!.isClosed).toBe(false);
      }),
      { seed: 12, numRuns: 50 },
    );
  });

  it('removes a segment drawn twice, forwards, backwards or in part', () => {
    const twice = [...SQUARE, reverseSegment(SQUARE[2]!), line(at(2, 0), at(7, 0))];
    const { contours, repairs, problems } = chainSegments(loose(twice), OPTIONS);
    expect(repairs.map((r) => [r.kind, r.tags[0]])).toEqual([
      ['duplicate removed', 4],
      ['duplicate removed', 5],
    ]);
    expect(repairs[1]!.sizeMm).toBeCloseTo(5, 12);
    expect(problems).toEqual([]);
    expect(contours).toHaveLength(1);
    expect(areaMm2(contours[0]!)).toBeCloseTo(100, 12);
  });

  it('trims overlapping lines and arcs to one path', () => {
    const ring = arcPieces(at(0, 0), 4, 0, Math.PI);
    const rest = arcPieces(at(0, 0), 4, 2.5, 2 * Math.PI - 2.5);
    const { contours, repairs } = chainSegments(loose([...ring, ...rest]), OPTIONS);
    expect(repairs.map((r) => r.kind)).toEqual(['overlap trimmed']);
    expect(repairs[0]!.sizeMm).toBeCloseTo(4 * (Math.PI - 2.5), 9);
    expect(contours).toHaveLength(1);
    expect(Math.abs(areaMm2(contours[0]!))).toBeCloseTo(16 * Math.PI, 9);
  });

  it('removes a whole polyline drawn twice but keeps neighbours that share an edge', () => {
    const neighbour = polygon([at(10, 0), at(20, 0), at(20, 10), at(10, 10)]);
    const pieces = [SQUARE, neighbour, SQUARE.map(reverseSegment).reverse()].map((segments, tag) => ({
      segments,
      tag,
    }));
    const { contours, repairs } = chainSegments(pieces, OPTIONS);
    expect(contours).toHaveLength(2);
    expect(repairs.map((r) => [r.kind, r.tags])).toEqual([['duplicate removed', [2, 0]]]);
    expect(repairs[0]!.sizeMm).toBeCloseTo(40, 12);
  });

  it('drops pieces without length and lists them', () => {
    const { contours, repairs } = chainSegments(loose([...SQUARE, line(at(3, 3), at(3, 3))]), OPTIONS);
    expect(contours).toHaveLength(1);
    expect(repairs).toEqual([{ kind: 'zero length dropped', at: at(3, 3), sizeMm: 0, tags: [4] }]);
  });

  it('follows a contour past a stub and says so', () => {
    const { contours, problems } = chainSegments(loose([...SQUARE, line(at(10, 10), at(14, 14))]), OPTIONS);
    expect(contours.map((c) => [c.isClosed, c.segments.length]).sort()).toEqual([
      [false, 1],
      [true, 4],
    ]);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ code: 'GEOMETRY-BRANCH', at: { xMm: 10, yMm: 10 } });
    expect(problems[0]!.message).toContain('3 ends');
  });

  it('splits two loops that share a corner', () => {
    const other = polygon([at(10, 10), at(20, 10), at(20, 20), at(10, 20)]);
    const { contours, problems } = chainSegments(loose([...SQUARE, ...other]), OPTIONS);
    expect(contours.map((c) => [c.isClosed, areaMm2(c)])).toEqual([
      [true, 100],
      [true, 100],
    ]);
    expect(problems.map((p) => p.code)).toEqual(['GEOMETRY-BRANCH']);
  });

  it('leaves an ambiguous crossing open and names both places', () => {
    const { contours, problems } = chainSegments(loose([...SQUARE, line(at(0, 0), at(10, 10))]), OPTIONS);
    expect(problems.map((p) => [p.at?.xMm, p.at?.yMm])).toEqual([
      [0, 0],
      [10, 10],
    ]);
    expect(contours.every((c) => !c.isClosed)).toBe(true);
    expect(contours.reduce((sum, c) => sum + lengthMm(c), 0)).toBeCloseTo(40 + Math.sqrt(200), 9);
  });

  it('keeps closed entities, collinear neighbours and open chains as they are', () => {
    const circle = arcPieces(at(50, 50), 2, 0, 2 * Math.PI);
    const pieces = [
      { segments: circle, tag: 'circle' },
      { segments: [line(at(0, 0), at(1, 0))], tag: 'a' },
      { segments: [line(at(1, 0), at(2, 0))], tag: 'b' },
    ];
    const { contours, repairs, problems } = chainSegments(pieces, OPTIONS);
    expect(repairs).toEqual([]);
    expect(problems).toEqual([]);
    expect(contours.map((c) => [c.isClosed, c.tags])).toEqual([
      [true, ['circle', 'circle']],
      [false, ['a', 'b']],
    ]);
  });

  it('keeps all length of random scribbles: nothing is lost unlisted', () => {
    const grid = fc.record({ x: fc.integer({ min: 0, max: 4 }), y: fc.integer({ min: 0, max: 4 }) });
    fc.assert(
      fc.property(fc.array(fc.tuple(grid, grid), { minLength: 1, maxLength: 14 }), (pairs) => {
        const segments = pairs.map(([a, b]) => line(a, b));
        const { contours, repairs } = chainSegments(loose(segments), OPTIONS);
        const drawn = segments.reduce((sum, s) => sum + distanceMm(s.from, s.to), 0);
        const kept = contours.reduce((sum, c) => sum + lengthMm(c), 0);
        const removed = repairs.reduce((sum, r) => sum + r.sizeMm, 0);
        expect(kept + removed).toBeCloseTo(drawn, 6);
        for (const c of contours) expect(isConnected(c)).toBe(true);
        // Slow oracle for coverage: every drawn place is still on some contour.
        for (const s of segments) {
          const p = pointAt(s, 0.37);
          if (distanceMm(s.from, s.to) === 0) continue;
          const nearest = Math.min(...contours.flatMap((c) => c.segments.map((k) => lineDistance(k, p))));
          expect(nearest).toBeLessThan(2e-4);
        }
      }),
      { seed: 13, numRuns: 300 },
    );
  });
});

function lineDistance(s: Segment | ArcSegment, p: Point): number {
  let best = Number.POSITIVE_INFINITY;
  const dx = s.to.x - s.from.x;
  const dy = s.to.y - s.from.y;
  const t = Math.max(0, Math.min(1, ((p.x - s.from.x) * dx + (p.y - s.from.y) * dy) / (dx * dx + dy * dy)));
  best = Math.min(best, distanceMm(p, at(s.from.x + dx * t, s.from.y + dy * t)));
  return best;
}
