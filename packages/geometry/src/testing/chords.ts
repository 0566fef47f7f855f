import type { Contour } from '../contour.js';
import type { Point } from '../point.js';
import { pointAt } from '../segment.js';

/** Corner points of a polygon whose chords leave the contour by at most `chordMm`. */
export function chordPoints(c: Contour, chordMm: number): Point[] {
  const out: Point[] = [];
  for (const s of c.segments) {
    out.push(s.from);
    if (s.kind === 'line' || s.radiusMm <= chordMm) continue;
    const step = 2 * Math.acos(1 - chordMm / s.radiusMm);
    const count = Math.ceil(Math.abs(s.sweepRad) / step);
    for (let i = 1; i < count; i++) out.push(pointAt(s, i / count));
  }
  return out;
}
