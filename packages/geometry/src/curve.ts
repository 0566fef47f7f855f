import { problem, type Result } from '@gapwright/base';
import type { Point } from './point.js';

/** A smooth plane curve over a parameter interval; the tangent direction does not jump inside it. */
export interface ParametricCurve {
  readonly range: { readonly from: number; readonly to: number };
  /**
   * Ascending parameters from `range.from` to `range.to` between which one formula holds (spline spans, quarter
   * ellipses). Fitting looks at every such span on its own, so no short span is overlooked.
   */
  readonly breaks: readonly number[];
  /** Point at parameter t, mm. */
  pointAt(t: number): Point;
  /** Derivative by the parameter at t, mm per unit of the parameter. */
  derivativeAt(t: number): Point;
}

/**
 * An elliptic arc: centre + major·cos t + minor·sin t, where the minor half axis is the major one turned a quarter turn
 * to the left times `ratio` (negative: the ellipse is seen from behind). It runs from `startRad` up to `endRad`; a DXF
 * ellipse whose end is not beyond its start runs on through zero.
 */
export function ellipseCurve(
  centre: Point,
  majorAxis: Point,
  ratio: number,
  startRad = 0,
  endRad = 2 * Math.PI,
): Result<ParametricCurve> {
  const numbers = [centre.x, centre.y, majorAxis.x, majorAxis.y, ratio, startRad, endRad];
  const size = Math.sqrt(majorAxis.x * majorAxis.x + majorAxis.y * majorAxis.y);
  if (!numbers.every(Number.isFinite) || size === 0 || ratio === 0) {
    return {
      value: null,
      problems: [
        problem({
          code: 'GEOMETRY-ELLIPSE-FLAT',
          severity: 'stop',
          what: `An ellipse with half axis ${size} mm and axis ratio ${ratio} encloses nothing`,
          fix: 'Redraw it, or draw a line if a line is meant',
          at: { xMm: centre.x, yMm: centre.y },
        }),
      ],
    };
  }
  const turn = 2 * Math.PI;
  let end = endRad;
  // Whole turns only: an end at or before the start means the arc passes through the major axis.
  while (end <= startRad) end += turn;
  while (end > startRad + turn * (1 + 1e-12)) end -= turn;
  return { value: conjugateEllipse(centre, majorAxis, minorAxis(majorAxis, ratio), startRad, end), problems: [] };
}

function minorAxis(major: Point, ratio: number): Point {
  return { x: -major.y * ratio, y: major.x * ratio };
}

/** centre + u·cos t + v·sin t over [from, to]; u and v need not be perpendicular. */
function conjugateEllipse(centre: Point, u: Point, v: Point, from: number, to: number): ParametricCurve {
  const quarter = Math.PI / 2;
  const breaks = [from];
  // Formula breaks at the axes: curvature is monotone between them.
  for (let k = Math.floor(from / quarter) + 1; k * quarter < to - 1e-9; k++) {
    if (k * quarter > from + 1e-9) breaks.push(k * quarter);
  }
  breaks.push(to);
  const at = (t: number): Point => {
    const cos = Math.cos(t);
    const sin = Math.sin(t);
    return { x: centre.x + u.x * cos + v.x * sin, y: centre.y + u.y * cos + v.y * sin };
  };
  const isFull = Math.abs(to - from - 2 * Math.PI) < 1e-9;
  return {
    range: { from, to },
    breaks,
    // A full turn closes on exactly the same point.
    pointAt: (t) => at(isFull && t >= to ? from : t),
    derivativeAt: (t) => {
      const cos = Math.cos(t);
      const sin = Math.sin(t);
      return { x: -u.x * sin + v.x * cos, y: -u.y * sin + v.y * cos };
    },
  };
}
