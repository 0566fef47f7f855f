import { outsideCheck } from '@gapwright/base/testing';
import { it } from 'vitest';
import { areaMm2, contour, lengthMm } from './contour.js';
import { ellipseCurve } from './curve.js';
import { fitArcs } from './fit-arcs.js';
import { largestDisc } from './largest-disc.js';
import { nurbsCurve } from './nurbs.js';
import { distanceMm, type Point } from './point.js';
import { line } from './segment.js';

const at = (x: number, y: number): Point => ({ x, y });

/** Perimeter of an ellipse through the complete elliptic integral by the arithmetic-geometric mean. */
function ellipsePerimeterMm(a: number, b: number): number {
  let mean = a;
  let geometric = b;
  let sum = (a * a - b * b) / (2 * a * a);
  for (let n = 0, power = 1; n < 12; n++, power *= 2) {
    const c = (mean - geometric) / 2;
    const next = (mean + geometric) / 2;
    geometric = Math.sqrt(mean * geometric);
    mean = next;
    sum += (power * c * c) / (a * a);
  }
  return ((2 * Math.PI * a * a) / mean) * (1 - sum);
}

it('gives ellipses the perimeter and area of the closed formulas', () => {
  for (const [a, b] of [
    [10, 5],
    [20, 3],
  ] as const) {
    const fitted = contour(fitArcs(ellipseCurve(at(1, 2), at(a * 0.6, a * 0.8), b / a).value!).segments, true);
    outsideCheck({
      id: `ellipse-perimeter-${a}-${b}`,
      what: `Perimeter of an ellipse with half axes ${a} and ${b} mm, fitted by arcs to 0.5 µm`,
      ours: lengthMm(fitted),
      theirs: ellipsePerimeterMm(a, b),
      unit: 'mm',
      allowed: 2 * Math.PI * 0.0005,
      why: 'a closed convex curve 0.5 µm further out is longer by 2π times that',
      source: 'Complete elliptic integral of the second kind by the arithmetic-geometric mean, DLMF 19.8',
      standing: 'from memory',
    });
    outsideCheck({
      id: `ellipse-area-${a}-${b}`,
      what: `Area of an ellipse with half axes ${a} and ${b} mm, fitted by arcs to 0.5 µm`,
      ours: areaMm2(fitted),
      theirs: Math.PI * a * b,
      unit: 'mm²',
      allowed: 0.0005 * ellipsePerimeterMm(a, b),
      why: 'largest deviation times perimeter',
      source: 'Area of an ellipse, pi·a·b',
      standing: 'common practice',
    });
  }
});

it('gives a parabola drawn as spline the length of its closed formula', () => {
  // Control points (0,0), (5,0), (10,10) draw y = x²/10 for x from 0 to 10.
  const curve = nurbsCurve(2, [0, 0, 0, 1, 1, 1], [at(0, 0), at(5, 0), at(10, 10)]).value![0]!;
  const slope = 2;
  outsideCheck({
    id: 'spline-parabola-length',
    what: 'Length of the parabola y = x²/10 from x = 0 to 10, fitted by arcs to 0.5 µm',
    ours: lengthMm(contour(fitArcs(curve).segments, false)),
    theirs: 2.5 * (slope * Math.sqrt(1 + slope * slope) + Math.asinh(slope)),
    unit: 'mm',
    allowed: 0.0005,
    why: 'the curve turns 1.1 rad; 0.5 µm further out it is longer by about that times the turn',
    source: 'Arc length of a parabola in closed form',
    standing: 'common practice',
  });
  outsideCheck({
    id: 'spline-parabola-point',
    what: 'Height of that spline at parameter 0.3 (x = 3)',
    ours: curve.pointAt(0.3).y,
    theirs: 0.9,
    unit: 'mm',
    allowed: 1e-12,
    why: 'rounding',
    source: 'y = x²/10',
    standing: 'common practice',
  });
});

it('draws a circle exactly with rational quadratic pieces', () => {
  const w = Math.SQRT1_2;
  const square = [at(5, 0), at(5, 5), at(0, 5), at(-5, 5), at(-5, 0), at(-5, -5), at(0, -5), at(5, -5), at(5, 0)];
  const knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4];
  const curve = nurbsCurve(2, knots, square, [1, w, 1, w, 1, w, 1, w, 1]).value![0]!;
  let worst = 0;
  for (let k = 0; k <= 1000; k++)
    worst = Math.max(worst, Math.abs(distanceMm(at(0, 0), curve.pointAt((4 * k) / 1000)) - 5));
  const shared = {
    unit: 'mm',
    source: 'Rational quadratic circle, weights cos 45°',
    standing: 'common practice',
  } as const;
  outsideCheck({
    ...shared,
    id: 'spline-circle-radius',
    what: 'Largest radius error of a rational spline circle',
    ours: worst,
    theirs: 0,
    allowed: 1e-13,
    why: 'rounding',
  });
  const fitted = contour(fitArcs(curve).segments, true);
  outsideCheck({
    ...shared,
    id: 'spline-circle-length',
    what: 'Perimeter of the two arcs it comes back as',
    ours: lengthMm(fitted),
    theirs: 10 * Math.PI,
    allowed: 1e-12,
    why: 'rounding',
  });
  outsideCheck({
    ...shared,
    id: 'spline-circle-pieces',
    what: 'Number of arcs it comes back as',
    ours: fitted.segments.length,
    theirs: 2,
    unit: 'arcs',
    allowed: 0,
    why: 'a count',
  });
});

it('finds the inscribed circle of triangles', () => {
  let worst = 0;
  for (const [a, b, c] of [
    [at(0, 0), at(13, 0), at(5, 12)],
    [at(0, 0), at(40, 1), at(20, 6)],
    [at(-3, 2), at(7, -5), at(1, 9)],
  ] as const) {
    const sides = [distanceMm(a, b), distanceMm(b, c), distanceMm(c, a)];
    const perimeter = sides.reduce((sum, s) => sum + s, 0);
    const area = Math.abs((b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)) / 2;
    const disc = largestDisc(contour([line(a, b), line(b, c), line(c, a)], true))!;
    worst = Math.max(worst, Math.abs(disc.radiusMm - (2 * area) / perimeter));
  }
  outsideCheck({
    id: 'largest-disc-incircle',
    what: 'Largest difference of the inscribed disc of three triangles from the inradius',
    ours: worst,
    theirs: 0,
    unit: 'mm',
    allowed: 1e-4,
    why: 'the search stops a tenth of a micrometre below the largest disc',
    source: 'Inradius = 2·area / perimeter',
    standing: 'common practice',
  });
});
