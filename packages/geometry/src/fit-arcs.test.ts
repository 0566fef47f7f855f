import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ellipseCurve, type ParametricCurve } from './curve.js';
import { FIT_TOLERANCE_MM, fitArcs } from './fit-arcs.js';
import { splineThroughPoints } from './fit-points.js';
import { nurbsCurve } from './nurbs.js';
import { distanceMm, type Point } from './point.js';
import { nearestPoint, type Segment, tangentAt } from './segment.js';

const at = (x: number, y: number): Point => ({ x, y });

/** Slow oracle: largest distance over a dense walk of the curve. */
function denseDeviationMm(curve: ParametricCurve, segments: readonly Segment[], steps = 4000): number {
  let worst = 0;
  let near = 0;
  for (let k = 0; k <= steps; k++) {
    const p = curve.pointAt(curve.range.from + ((curve.range.to - curve.range.from) * k) / steps);
    let best = Number.POSITIVE_INFINITY;
    // The nearest piece moves forward with the walk; looking a few pieces around it is enough.
    for (let i = Math.max(0, near - 3); i < Math.min(segments.length, near + 8); i++) {
      const d = nearestPoint(segments[i]!, p).distanceMm;
      if (d < best) {
        best = d;
        near = i;
      }
    }
    worst = Math.max(worst, best);
  }
  return worst;
}

function expectSound(curve: ParametricCurve, toleranceMm: number): Segment[] {
  const { segments, largestDeviationMm } = fitArcs(curve, toleranceMm);
  expect(largestDeviationMm).toBeLessThanOrEqual(toleranceMm);
  expect(denseDeviationMm(curve, segments)).toBeLessThanOrEqual(largestDeviationMm * 1.001 + toleranceMm * 1e-3);
  expect(segments[0]!.from).toEqual(curve.pointAt(curve.range.from));
  expect(distanceMm(segments.at(-1)!.to, curve.pointAt(curve.range.to))).toBeLessThan(1e-9);
  segments.forEach((s, i) => {
    if (i > 0) expect(s.from).toEqual(segments[i - 1]!.to);
    if (s.kind !== 'arc') return;
    expect(Math.abs(s.sweepRad)).toBeLessThanOrEqual(Math.PI);
    // Centres of very flat arcs lie far away: their rounding grows with the radius.
    expect(Math.abs(distanceMm(s.centre, s.to) - s.radiusMm)).toBeLessThan(1e-9 + 1e-12 * s.radiusMm);
  });
  return segments;
}

function largestKinkRad(segments: readonly Segment[]): number {
  let worst = 0;
  for (let i = 1; i < segments.length; i++) {
    const a = tangentAt(segments[i - 1]!, 1);
    const b = tangentAt(segments[i]!, 0);
    worst = Math.max(worst, Math.abs(Math.atan2(a.x * b.y - a.y * b.x, a.x * b.x + a.y * b.y)));
  }
  return worst;
}

describe('fitArcs', () => {
  it('keeps ellipses within tolerance, tangent everywhere and closed on the very start point', () => {
    for (const ratio of [0.95, 0.5, 0.1, 0.01, -0.3]) {
      const curve = ellipseCurve(at(3, -2), at(8, 6), ratio).value!;
      const segments = expectSound(curve, FIT_TOLERANCE_MM);
      expect(largestKinkRad(segments)).toBeLessThan(1e-6);
      expect(segments.at(-1)!.to).toEqual(segments[0]!.from);
    }
  });

  it('gives a round ellipse back as two exact half circles', () => {
    const { segments, largestDeviationMm } = fitArcs(ellipseCurve(at(3, -2), at(0, 5), 1).value!);
    expect(segments).toHaveLength(2);
    expect(largestDeviationMm).toBeLessThan(1e-12);
    for (const s of segments) {
      expect(s.kind).toBe('arc');
      if (s.kind !== 'arc') continue;
      expect(s.radiusMm).toBeCloseTo(5, 12);
      expect(distanceMm(s.centre, at(3, -2))).toBeLessThan(1e-12);
    }
  });

  it('gives a straight spline back as one line, also when its control points are unevenly spread', () => {
    const points = [0, 0.1, 0.2, 3, 9, 10].map((t) => at(1 + 3 * t, 2 - 4 * t));
    const curve = nurbsCurve(3, [0, 0, 0, 0, 1, 2, 3, 3, 3, 3], points).value![0]!;
    const { segments } = fitArcs(curve);
    expect(segments).toHaveLength(1);
    expect(segments[0]).toMatchObject({ kind: 'line', from: points[0], to: points[5] });
  });

  it('parts a spline of line and circle spans at their joint exactly', () => {
    // Quadratic: a line of 10 mm, then a quarter circle of radius 5 mm tangent to it.
    const points = [at(0, 0), at(5, 0), at(10, 0), at(15, 0), at(15, 5)];
    const spline = nurbsCurve(2, [0, 0, 0, 1, 1, 2, 2, 2], points, [1, 1, 1, Math.SQRT1_2, 1]).value!;
    expect(spline).toHaveLength(1);
    const { segments } = fitArcs(spline[0]!);
    expect(segments.map((s) => s.kind)).toEqual(['line', 'arc']);
    expect(segments[0]!.to).toEqual(at(10, 0));
    expect(segments[1]!.kind === 'arc' && segments[1]!.radiusMm).toBeCloseTo(5, 12);
  });

  it('keeps random cubic splines within tolerance', () => {
    const coordinate = fc.double({ min: -20, max: 20, noNaN: true });
    const point = fc.record({ x: coordinate, y: coordinate });
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 4, maxLength: 9 }),
        fc.constantFrom(0.0005, 0.005, 0.05),
        (points, toleranceMm) => {
          const inner = Array.from({ length: points.length - 4 }, (_, i) => i + 1);
          const last = points.length - 3;
          const spline = nurbsCurve(3, [0, 0, 0, 0, ...inner, last, last, last, last], points);
          for (const curve of spline.value ?? []) expectSound(curve, toleranceMm);
        },
      ),
      { seed: 21, numRuns: 60 },
    );
  });

  it('keeps random fit-point splines within tolerance', () => {
    const point = fc.record({ x: fc.integer({ min: -30, max: 30 }), y: fc.integer({ min: -30, max: 30 }) });
    fc.assert(
      fc.property(fc.array(point, { minLength: 3, maxLength: 8 }), fc.boolean(), (points, isClosed) => {
        const spline = splineThroughPoints(points, { isClosed });
        if (spline.value !== null) expectSound(spline.value, 0.001);
      }),
      { seed: 22, numRuns: 40 },
    );
  });

  it('passes a cusp and a doubled end point without leaving the tolerance', () => {
    // Cubic with crossing legs chosen so that its speed vanishes in the middle.
    const cusp = nurbsCurve(3, [0, 0, 0, 0, 1, 1, 1, 1], [at(0, 0), at(10, 10), at(0, 10), at(10, 0)]).value![0]!;
    expectSound(cusp, 0.001);
    const doubled = nurbsCurve(3, [0, 0, 0, 0, 1, 1, 1, 1], [at(0, 0), at(0, 0), at(4, 9), at(10, 0)]).value![0]!;
    expectSound(doubled, 0.0005);
  });

  it('needs fewer pieces for a wider tolerance, about the cube root of it', () => {
    const curve = ellipseCurve(at(0, 0), at(10, 0), 0.5).value!;
    const counts = [1e-5, 1e-4, 1e-3, 1e-2].map((toleranceMm) => fitArcs(curve, toleranceMm).segments.length);
    for (let i = 1; i < counts.length; i++) {
      expect(counts[i]).toBeLessThan(counts[i - 1]!);
      expect(counts[i - 1]! / counts[i]!).toBeLessThan(2.6);
    }
    expect(counts[2]!).toBeLessThanOrEqual(48);
  });

  it('gives the mirrored pieces for the curve run backwards, within one piece', () => {
    const points = [at(0, 0), at(10, 20), at(30, -20), at(40, 30), at(50, 0)];
    const knots = [0, 0, 0, 0, 1, 2, 2, 2, 2];
    const forward = fitArcs(nurbsCurve(3, knots, points).value![0]!);
    const backward = fitArcs(nurbsCurve(3, knots, [...points].reverse()).value![0]!);
    expect(Math.abs(forward.segments.length - backward.segments.length)).toBeLessThanOrEqual(2);
  });
});
