import { arcThrough, biarc, joinPieces } from './biarc.js';
import type { ParametricCurve } from './curve.js';
import { deviationMm } from './deviation.js';
import { distanceMm, type Point } from './point.js';
import { arc, arcPieces, line, type Segment } from './segment.js';

/** Default largest distance between a curve and the arcs that replace it, mm: half a micrometre. */
export const FIT_TOLERANCE_MM = 0.0005;

export interface FittedArcs {
  /** Connected lines and arcs, tangent to each other where the curve is smooth; first and last point are the curve's. */
  readonly segments: Segment[];
  /** Largest distance found between curve and segments, mm. */
  readonly largestDeviationMm: number;
}

/** Part of a span's chord below which a curve is a line or circle and not merely close to one, no unit. */
const EXACT_PART = 1e-10;
/** Absolute floor of the same test, mm, per mm of coordinate: rounding of double numbers. */
const ROUNDING_PART = 1e-14;
/** A fitted piece turns less than this, rad, so that each of its two arcs stays well below half a turn. */
const PIECE_TURN_RAD = 0.75 * Math.PI;

/**
 * Replaces a curve by lines and arcs no further than `toleranceMm` from it, tangents continuous, as few as a greedy walk
 * finds. Spans that are straight or circular come back exactly. The deviation is followed to its local maxima between
 * samples in every span; a curve that wiggles several times within one span of its own formula is not promised.
 */
export function fitArcs(curve: ParametricCurve, toleranceMm: number = FIT_TOLERANCE_MM): FittedArcs {
  const { breaks } = curve;
  const segments: Segment[] = [];
  let largest = 0;
  let i = 0;
  while (i < breaks.length - 1) {
    const exact = exactSpan(curve, breaks[i]!, breaks[i + 1]!);
    if (exact !== null) {
      for (const s of exact) append(segments, s);
      largest = Math.max(largest, deviationMm(curve, exact, breaks[i]!, breaks[i + 1]!, 0).largestMm);
      i++;
      continue;
    }
    let end = i + 1;
    while (end < breaks.length - 1 && exactSpan(curve, breaks[end]!, breaks[end + 1]!) === null) end++;
    const run = fitRun(curve, breaks[i]!, breaks[end]!, toleranceMm);
    for (const s of run.segments) append(segments, s);
    largest = Math.max(largest, run.largestDeviationMm);
    i = end;
  }
  return { segments: pinEnds(segments, curve), largestDeviationMm: largest };
}

/** Same-circle neighbours within this distance are one arc, mm: sum of the rounding of two circle centres. */
const SAME_CIRCLE_MM = 1e-9;

function append(out: Segment[], s: Segment): void {
  if (distanceMm(s.from, s.to) === 0) return;
  const before = out[out.length - 1];
  const joined = before && joinPieces(before, s, SAME_CIRCLE_MM);
  if (joined) out[out.length - 1] = joined;
  else out.push(before ? { ...s, from: before.to } : s);
}

/** Ends exactly on the curve's own end points; a closed curve ends on the very point it starts from. */
function pinEnds(segments: Segment[], curve: ParametricCurve): Segment[] {
  const last = segments.length - 1;
  if (last < 0) return segments;
  const start = curve.pointAt(curve.range.from);
  let end = curve.pointAt(curve.range.to);
  if (distanceMm(start, end) <= SAME_CIRCLE_MM) end = start;
  segments[0] = { ...segments[0]!, from: start };
  segments[last] = { ...segments[last]!, to: end };
  return segments;
}

/** The span as exact line or arcs, or null when it is neither. */
function exactSpan(curve: ParametricCurve, from: number, to: number): Segment[] | null {
  const a = curve.pointAt(from);
  const b = curve.pointAt(to);
  const middle = curve.pointAt((from + to) / 2);
  const size = distanceMm(a, middle) + distanceMm(middle, b);
  if (size === 0) return null;
  const reach = Math.abs(a.x) + Math.abs(a.y) + size;
  const allowed = EXACT_PART * size + ROUNDING_PART * reach;
  const straight = [line(a, b)];
  if (distanceMm(a, b) > 0 && deviationMm(curve, straight, from, to, allowed).isWithin) {
    return isForward(curve, from, to) ? straight : null;
  }
  const circle = arcThrough(a, middle, b) ?? arcThrough(a, middle, curve.pointAt(from + (to - from) * 0.8));
  if (circle === null || circle.radiusMm > 1e3 * size) return null;
  const { centre } = circle;
  const sweepRad = turnAround(curve, centre, from, to);
  if (sweepRad === null) return null;
  if (Math.abs(sweepRad) <= Math.PI) {
    const whole = [arc(a, b, centre, sweepRad)];
    return deviationMm(curve, whole, from, to, allowed).isWithin ? whole : null;
  }
  const pieces = arcPieces(centre, circle.radiusMm, Math.atan2(a.y - centre.y, a.x - centre.x), sweepRad);
  pieces[0] = { ...pieces[0]!, from: a };
  pieces[pieces.length - 1] = { ...pieces[pieces.length - 1]!, to: b };
  return deviationMm(curve, pieces, from, to, allowed).isWithin ? pieces : null;
}

/** True when a straight span never runs backwards. */
function isForward(curve: ParametricCurve, from: number, to: number): boolean {
  const a = curve.pointAt(from);
  const b = curve.pointAt(to);
  const squared = distanceMm(a, b) ** 2;
  for (let k = 0; k <= 16; k++) {
    const d = curve.derivativeAt(from + ((to - from) * k) / 16);
    const ahead = d.x * (b.x - a.x) + d.y * (b.y - a.y);
    // Average speed along the chord is |b - a|² / (to - from); a spline may stand still at a cusp, give or take rounding.
    if (ahead * (to - from) < -1e-9 * squared) return false;
  }
  return true;
}

/** Angle turned around a centre over a span, rad; null when the direction of turning changes. */
function turnAround(curve: ParametricCurve, centre: Point, from: number, to: number): number | null {
  const steps = 16;
  let total = 0;
  let before = curve.pointAt(from);
  for (let k = 1; k <= steps; k++) {
    const p = curve.pointAt(from + ((to - from) * k) / steps);
    const ax = before.x - centre.x;
    const ay = before.y - centre.y;
    const bx = p.x - centre.x;
    const by = p.y - centre.y;
    const step = Math.atan2(ax * by - ay * bx, ax * bx + ay * by);
    if (total !== 0 && step * total < 0) return null;
    total += step;
    before = p;
  }
  return total;
}

/** Greedy walk: each piece reaches as far as the tolerance lets it. */
function fitRun(curve: ParametricCurve, from: number, to: number, toleranceMm: number): FittedArcs {
  const segments: Segment[] = [];
  let largest = 0;
  let t = from;
  let step = to - from;
  // Below this a parameter step is rounding; the curve has a cusp or loop there and gets a short line.
  const smallest = (to - from) * 1e-9;
  let forced = 0;
  while (t < to) {
    let good = 0;
    let bad = Number.POSITIVE_INFINITY;
    let best: Piece | null = null;
    let length = Math.min(step, to - t);
    for (let tries = 0; tries < 60; tries++) {
      const end = t + length >= to - smallest ? to : t + length;
      const piece = tryPiece(curve, t, end, toleranceMm);
      if (piece !== null) {
        good = end - t;
        best = piece;
        if (end === to) break;
      } else {
        bad = length;
      }
      if (bad === Number.POSITIVE_INFINITY) length *= 2;
      else if (bad - good <= 0.004 * bad || bad <= smallest) break;
      else length = (good + bad) / 2;
    }
    if (best === null) {
      // Twice as far after every failure in a row, so that even a curve without tangents is walked in a few steps.
      forced = forced === 0 ? smallest : 2 * forced;
      const end = Math.min(to, t + forced);
      best = shortLine(curve, t, end);
      good = end - t;
    } else {
      forced = 0;
    }
    for (const s of best.segments) append(segments, s);
    largest = Math.max(largest, best.deviationMm);
    step = good;
    t = best.to;
  }
  return { segments, largestDeviationMm: largest };
}

interface Piece {
  readonly segments: Segment[];
  readonly deviationMm: number;
  readonly to: number;
}

function tryPiece(curve: ParametricCurve, from: number, to: number, toleranceMm: number): Piece | null {
  const a = curve.pointAt(from);
  const b = curve.pointAt(to);
  const chordMm = distanceMm(a, b);
  const ta = direction(curve, from, to);
  const tb = direction(curve, to, from);
  if (chordMm > 0 && ta !== null && tb !== null && turnedRad(curve, from, to) <= PIECE_TURN_RAD) {
    const segments = biarc(a, ta, b, tb);
    const found = deviationMm(curve, segments, from, to, toleranceMm);
    if (found.isWithin) return { segments, deviationMm: found.largestMm, to };
  }
  // Beside a cusp no arc follows the tangents; a line about as short as the tolerance passes it, also where the curve
  // stands still and both ends are one point.
  if (chordMm > 2 * toleranceMm) return null;
  const found = deviationMm(curve, [line(a, b)], from, to, toleranceMm);
  return found.isWithin ? { segments: [line(a, b)], deviationMm: found.largestMm, to } : null;
}

function shortLine(curve: ParametricCurve, from: number, to: number): Piece {
  const segments = [line(curve.pointAt(from), curve.pointAt(to))];
  return { segments, deviationMm: deviationMm(curve, segments, from, to, Number.POSITIVE_INFINITY).largestMm, to };
}

/** Unit direction of travel at t; where the derivative vanishes, the direction just inside the piece. */
function direction(curve: ParametricCurve, t: number, otherEnd: number): Point | null {
  let d = curve.derivativeAt(t);
  let length = Math.sqrt(d.x * d.x + d.y * d.y);
  const chord = distanceMm(curve.pointAt(t), curve.pointAt(otherEnd)) / Math.abs(otherEnd - t);
  // Slower than a millionth of the average speed: a cusp or a doubled end point, where the limit counts.
  if (length <= 1e-6 * chord || length === 0) {
    d = curve.derivativeAt(t + (otherEnd - t) * 1e-5);
    length = Math.sqrt(d.x * d.x + d.y * d.y);
  }
  return length > 0 ? { x: d.x / length, y: d.y / length } : null;
}

/** Sum of absolute direction changes over the piece, rad, from a few samples in each span. */
function turnedRad(curve: ParametricCurve, from: number, to: number): number {
  const steps = 8;
  let total = 0;
  let before: Point | null = null;
  for (let k = 0; k <= steps; k++) {
    const d = curve.derivativeAt(from + ((to - from) * k) / steps);
    if (d.x === 0 && d.y === 0) continue;
    if (before !== null)
      total += Math.abs(Math.atan2(before.x * d.y - before.y * d.x, before.x * d.x + before.y * d.y));
    before = d;
  }
  return total;
}
