import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { splineThroughPoints } from './fit-points.js';
import { nurbsCurve } from './nurbs.js';
import { distanceMm, type Point } from './point.js';

const at = (x: number, y: number): Point => ({ x, y });
const coordinate = fc.double({ min: -50, max: 50, noNaN: true });
const point = fc.record({ x: coordinate, y: coordinate });

/** Cox–de Boor recursion, straight from the definition: slow and independent of how the curve is stored. */
function basis(i: number, degree: number, t: number, u: readonly number[]): number {
  if (degree === 0) return t >= u[i]! && t < u[i + 1]! ? 1 : 0;
  const left = u[i + degree]! - u[i]!;
  const right = u[i + degree + 1]! - u[i + 1]!;
  return (
    (left > 0 ? ((t - u[i]!) / left) * basis(i, degree - 1, t, u) : 0) +
    (right > 0 ? ((u[i + degree + 1]! - t) / right) * basis(i + 1, degree - 1, t, u) : 0)
  );
}

function definition(degree: number, u: readonly number[], p: readonly Point[], w: readonly number[], t: number): Point {
  let x = 0;
  let y = 0;
  let sum = 0;
  p.forEach((one, i) => {
    const b = basis(i, degree, t, u) * w[i]!;
    x += b * one.x;
    y += b * one.y;
    sum += b;
  });
  return at(x / sum, y / sum);
}

describe('nurbsCurve', () => {
  it('agrees with the definition for any degree, knots and weights', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5 }),
        fc.array(
          fc.record({
            p: point,
            w: fc.double({ min: 0.2, max: 5, noNaN: true }),
            step: fc.integer({ min: 1, max: 9 }),
          }),
          {
            minLength: 6,
            maxLength: 9,
          },
        ),
        fc.boolean(),
        (degree, list, isClamped) => {
          const points = list.map((one) => one.p);
          const weights = list.map((one) => one.w);
          const count = points.length + degree + 1;
          const knots: number[] = [];
          let value = 0;
          for (let i = 0; i < count; i++) {
            const isEnd = isClamped && (i <= degree || i > points.length);
            if (i > 0 && !(isEnd && i !== points.length)) value += list[i % list.length]!.step;
            knots.push(value);
          }
          if (isClamped) for (let i = points.length; i < count; i++) knots[i] = knots[points.length]!;
          const { value: curves, problems } = nurbsCurve(degree, knots, points, weights);
          if (problems[0]?.code === 'GEOMETRY-SPLINE-POINT') return;
          expect(problems).toEqual([]);
          for (const curve of curves!) {
            for (const part of [0, 0.13, 0.5, 0.77, 0.9999]) {
              const t = curve.range.from + (curve.range.to - curve.range.from) * part;
              if (t >= knots[points.length]!) continue;
              expect(distanceMm(curve.pointAt(t), definition(degree, knots, points, weights, t))).toBeLessThan(1e-9);
            }
          }
        },
      ),
      { seed: 31, numRuns: 200 },
    );
  });

  it('has the derivative its points have', () => {
    fc.assert(
      fc.property(
        fc.array(point, { minLength: 5, maxLength: 5 }),
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (p, part) => {
          for (const curve of nurbsCurve(3, [0, 0, 0, 0, 0.4, 1, 1, 1, 1], p, [1, 2, 0.5, 3, 1]).value ?? []) {
            const t = curve.range.from + (curve.range.to - curve.range.from) * part;
            const h = 1e-6;
            const a = curve.pointAt(t - h);
            const b = curve.pointAt(t + h);
            const d = curve.derivativeAt(t);
            expect(distanceMm(d, at((b.x - a.x) / (2 * h), (b.y - a.y) / (2 * h)))).toBeLessThan(0.01);
          }
        },
      ),
      { seed: 32, numRuns: 100 },
    );
  });

  it('parts at corners and only there', () => {
    const polyline = nurbsCurve(1, [0, 0, 1, 2, 3, 3], [at(0, 0), at(1, 0), at(2, 0), at(2, 1)]).value!;
    expect(polyline.map((c) => [c.pointAt(c.range.from), c.pointAt(c.range.to)])).toEqual([
      [at(0, 0), at(2, 0)],
      [at(2, 0), at(2, 1)],
    ]);
    const smooth = [at(0, 0), at(1, 2), at(3, 2), at(5, 2), at(7, 2), at(8, 0), at(9, 0)];
    const knots = [0, 0, 0, 0, 1, 1, 1, 2, 2, 2, 2];
    expect(nurbsCurve(3, knots, smooth).value).toHaveLength(1);
    expect(nurbsCurve(3, knots, smooth.with(4, at(7, 3))).value).toHaveLength(2);
  });

  it('runs a periodic spline around smoothly', () => {
    const ring = [at(0, 0), at(4, 0), at(5, 3), at(2, 6), at(-1, 3)];
    const { value, problems } = nurbsCurve(3, [0, 1, 2, 3, 4, 5], ring, undefined, { isPeriodic: true });
    expect(problems).toEqual([]);
    expect(value).toHaveLength(1);
    const curve = value![0]!;
    expect(distanceMm(curve.pointAt(curve.range.from), curve.pointAt(curve.range.to))).toBeLessThan(1e-12);
    expect(distanceMm(curve.derivativeAt(curve.range.from), curve.derivativeAt(curve.range.to))).toBeLessThan(1e-12);
    const unrolled = nurbsCurve(
      3,
      Array.from({ length: 12 }, (_, i) => i),
      [...ring, ...ring.slice(0, 3)],
    ).value![0]!;
    expect(distanceMm(curve.pointAt(curve.range.from), unrolled.pointAt(3))).toBeLessThan(1e-12);
  });

  it('says what is wrong with bad data', () => {
    const p = [at(0, 0), at(1, 1), at(2, 0), at(3, 1)];
    const codes = (r: { problems: readonly { code: string }[]; value: unknown }): unknown => [
      r.value,
      r.problems[0]?.code,
    ];
    expect(codes(nurbsCurve(0, [0, 1], p))).toEqual([null, 'GEOMETRY-SPLINE-DEGREE']);
    expect(codes(nurbsCurve(3, [0, 0, 0, 0, 1, 1, 1], p))).toEqual([null, 'GEOMETRY-SPLINE-COUNT']);
    expect(codes(nurbsCurve(3, [0, 0, 0, 0, 1, 1, 1, 1], p, [1, 1]))).toEqual([null, 'GEOMETRY-SPLINE-COUNT']);
    expect(codes(nurbsCurve(3, [0, 0, 0, 0, 1, 1, 0.5, 1], p))).toEqual([null, 'GEOMETRY-SPLINE-KNOTS']);
    expect(codes(nurbsCurve(3, [0, 0, 0, 0, 1, 1, 1, Number.NaN], p))).toEqual([null, 'GEOMETRY-SPLINE-KNOTS']);
    expect(codes(nurbsCurve(3, [0, 0, 0, 0, 1, 1, 1, 1], p, [1, 0, 1, 1]))).toEqual([null, 'GEOMETRY-SPLINE-WEIGHT']);
    expect(codes(nurbsCurve(3, [0, 0, 0, 0, 1, 1, 1, 1], [p[0]!, p[0]!, p[0]!, p[0]!]))).toEqual([
      null,
      'GEOMETRY-SPLINE-POINT',
    ]);
    const jumping = nurbsCurve(1, [0, 0, 1, 1, 2, 2], p);
    expect(jumping.value).toHaveLength(2);
    expect(jumping.problems[0]).toMatchObject({ code: 'GEOMETRY-SPLINE-GAP', at: { xMm: 1, yMm: 1 } });
  });
});

describe('splineThroughPoints', () => {
  const p = [at(0, 0), at(3, 4), at(8, 4), at(9, -2), at(14, 0)];
  const bend = (curve: { derivativeAt(t: number): Point }, t: number, h: number): Point => {
    const a = curve.derivativeAt(t);
    const b = curve.derivativeAt(t + h);
    return at((b.x - a.x) / h, (b.y - a.y) / h);
  };

  it('passes through all points with continuous second derivative and natural ends', () => {
    const curve = splineThroughPoints(p).value!;
    curve.breaks.forEach((t, i) => {
      expect(distanceMm(curve.pointAt(t), p[i]!)).toBeLessThan(1e-12);
      if (i > 0 && i < p.length - 1) expect(distanceMm(bend(curve, t, 1e-5), bend(curve, t, -1e-5))).toBeLessThan(1e-4);
    });
    expect(distanceMm(bend(curve, 0, 1e-5), at(0, 0))).toBeLessThan(1e-4);
    expect(distanceMm(bend(curve, curve.range.to, -1e-5), at(0, 0))).toBeLessThan(1e-4);
  });

  it('keeps given end directions and closes smoothly', () => {
    const curve = splineThroughPoints(p, { startTangent: at(0, 7), endTangent: at(2, 0) }).value!;
    expect(distanceMm(curve.derivativeAt(curve.range.from), at(0, 1))).toBeLessThan(1e-12);
    expect(distanceMm(curve.derivativeAt(curve.range.to), at(1, 0))).toBeLessThan(1e-12);
    const ring = splineThroughPoints(p, { isClosed: true }).value!;
    const { from, to } = ring.range;
    expect(distanceMm(ring.pointAt(to), p[0]!)).toBe(0);
    expect(distanceMm(ring.derivativeAt(from), ring.derivativeAt(to))).toBeLessThan(1e-12);
    expect(distanceMm(bend(ring, from, 1e-5), bend(ring, to, -1e-5))).toBeLessThan(1e-4);
    ring.breaks.forEach((t, i) => {
      if (i > 0 && i < p.length) expect(distanceMm(bend(ring, t, 1e-5), bend(ring, t, -1e-5))).toBeLessThan(1e-4);
    });
  });

  it('is a line through two points and refuses one', () => {
    const curve = splineThroughPoints([at(0, 0), at(0, 0), at(6, 8)]).value!;
    expect(distanceMm(curve.pointAt(5), at(3, 4))).toBeLessThan(1e-12);
    expect(splineThroughPoints([at(1, 1), at(1, 1)]).problems[0]!.code).toBe('GEOMETRY-SPLINE-POINT');
  });
});
