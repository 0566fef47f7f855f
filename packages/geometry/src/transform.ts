import { type Contour, contour } from './contour.js';
import type { ParametricCurve } from './curve.js';
import { distanceMm, type Point } from './point.js';
import type { ArcSegment, Segment } from './segment.js';

/** An affine map: x' = a·x + c·y + e, y' = b·x + d·y + f. Lengths a–d carry no unit, e and f are mm. */
export interface Affine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  readonly d: number;
  readonly e: number;
  readonly f: number;
}

export const IDENTITY: Affine = { a: 1, b: 0, c: 0, d: 1, e: 0, f: 0 };

export function translation(xMm: number, yMm: number): Affine {
  return { a: 1, b: 0, c: 0, d: 1, e: xMm, f: yMm };
}

/** Turn about the origin, counter-clockwise positive. */
export function rotation(angleRad: number): Affine {
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return { a: cos, b: sin, c: -sin, d: cos, e: 0, f: 0 };
}

/** Scale about the origin; unequal factors turn arcs into ellipses, a negative one mirrors. */
export function scaling(factorX: number, factorY: number = factorX): Affine {
  return { a: factorX, b: 0, c: 0, d: factorY, e: 0, f: 0 };
}

/** Mirror at the line through the origin in direction `angleRad`. */
export function mirroring(angleRad: number): Affine {
  const cos = Math.cos(2 * angleRad);
  const sin = Math.sin(2 * angleRad);
  return { a: cos, b: sin, c: sin, d: -cos, e: 0, f: 0 };
}

/** The map that applies the given maps in order, the first one first. */
export function compose(...maps: readonly Affine[]): Affine {
  let m = IDENTITY;
  for (const n of maps) {
    m = {
      a: n.a * m.a + n.c * m.b,
      b: n.b * m.a + n.d * m.b,
      c: n.a * m.c + n.c * m.d,
      d: n.b * m.c + n.d * m.d,
      e: n.a * m.e + n.c * m.f + n.e,
      f: n.b * m.e + n.d * m.f + n.f,
    };
  }
  return m;
}

export function transformPoint(p: Point, m: Affine): Point {
  return { x: m.a * p.x + m.c * p.y + m.e, y: m.b * p.x + m.d * p.y + m.f };
}

/** The image of a direction or derivative (no shift). */
export function transformVector(v: Point, m: Affine): Point {
  return { x: m.a * v.x + m.c * v.y, y: m.b * v.x + m.d * v.y };
}

/** Largest relative departure from a similarity that still counts as one: rounding of composed maps, no unit. */
const SIMILARITY_ROUNDING = 1e-12;

/** True when the map keeps circles round: rotation, mirroring, shift and one scale for both axes. */
export function isSimilarity(m: Affine): boolean {
  const first = m.a * m.a + m.b * m.b;
  const second = m.c * m.c + m.d * m.d;
  const dot = m.a * m.c + m.b * m.d;
  const size = Math.max(first, second);
  return (
    size > 0 && Math.abs(first - second) <= SIMILARITY_ROUNDING * size && Math.abs(dot) <= SIMILARITY_ROUNDING * size
  );
}

/** True when the map turns counter-clockwise into clockwise. */
export function isMirroring(m: Affine): boolean {
  return m.a * m.d - m.b * m.c < 0;
}

/** The image of a line under any map, or of an arc under a similarity; null for an arc that would become an ellipse. */
export function transformSegment(s: Segment, m: Affine): Segment | null {
  const from = transformPoint(s.from, m);
  const to = transformPoint(s.to, m);
  if (s.kind === 'line') return { kind: 'line', from, to };
  if (!isSimilarity(m)) return null;
  const radiusMm = s.radiusMm * Math.sqrt(m.a * m.a + m.b * m.b);
  const sweepRad = isMirroring(m) ? -s.sweepRad : s.sweepRad;
  return { kind: 'arc', from, to, centre: transformPoint(s.centre, m), radiusMm, sweepRad };
}

/** The image of a contour; null when it has arcs and the map is no similarity (use `arcCurve` and fit). */
export function transformContour(c: Contour, m: Affine): Contour | null {
  const segments: Segment[] = [];
  for (const s of c.segments) {
    const image = transformSegment(s, m);
    if (image === null) return null;
    segments.push(image);
  }
  return contour(segments, c.isClosed);
}

/** The image of a curve under any map. */
export function transformCurve(curve: ParametricCurve, m: Affine): ParametricCurve {
  return {
    range: curve.range,
    breaks: curve.breaks,
    pointAt: (t) => transformPoint(curve.pointAt(t), m),
    derivativeAt: (t) => transformVector(curve.derivativeAt(t), m),
  };
}

/** An arc as a curve over its turned angle, for maps that make it an ellipse. Its end points are kept exactly. */
export function arcCurve(s: ArcSegment): ParametricCurve {
  const startRad = Math.atan2(s.from.y - s.centre.y, s.from.x - s.centre.x);
  const side = Math.sign(s.sweepRad);
  const span = Math.abs(s.sweepRad);
  const radiusMm = distanceMm(s.centre, s.from);
  return {
    range: { from: 0, to: span },
    breaks: [0, span / 2, span],
    pointAt: (t) => {
      if (t <= 0) return s.from;
      if (t >= span) return s.to;
      const angle = startRad + side * t;
      return { x: s.centre.x + radiusMm * Math.cos(angle), y: s.centre.y + radiusMm * Math.sin(angle) };
    },
    derivativeAt: (t) => {
      const angle = startRad + side * t;
      return { x: -side * radiusMm * Math.sin(angle), y: side * radiusMm * Math.cos(angle) };
    },
  };
}
