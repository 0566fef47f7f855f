import { type Contour, line, offsetContour, pointAt, type Segment, segmentLengthMm } from '@gapwright/geometry';
import { compensate } from './compensate.js';
import { cutSegment } from './offset-block.js';

/**
 * A contour with every inside corner (seen from the wire) that is sharper than |leftMm| rounded to that radius: what a
 * disc of that radius on the wire's side can reach. `leftMm` is positive when the wire runs left of the drawn direction.
 * Null when the disc cannot pass the whole contour, so that rounding gives no single contour.
 */
export function roundInsideCorners(c: Contour, leftMm: number): Contour | null {
  return cornerByCorner(c, leftMm) ?? outAndBack(c, leftMm);
}

/** Where neighbouring corners run into each other one arc replaces them both: the curves at a distance find it. */
function outAndBack(c: Contour, leftMm: number): Contour | null {
  const there = offsetContour(c, leftMm);
  if (there.length !== 1) return null;
  const back = offsetContour(there[0]!, -leftMm);
  return back.length === 1 ? back[0]! : null;
}

function cornerByCorner(c: Contour, leftMm: number): Contour | null {
  const opened = c.isClosed ? openAtLongest(c.segments) : [...c.segments];
  const sign = Math.sign(leftMm);
  const radiusMm = Math.abs(leftMm);
  // An inside arc below the radius vanishes: its neighbours meet directly.
  const kept = opened.filter(
    (s) => s.kind === 'line' || Math.sign(s.sweepRad) !== sign || s.radiusMm > radiusMm + 1e-9,
  );
  if (kept.length === 0) return null;
  const there = compensate(kept[0]!.from, kept.map(block), leftMm, null, false);
  if (there.alarm !== null) return null;
  // The way around an outside corner shrinks back to the corner itself.
  const path = there.pieces.filter((p) => p.role !== 'corner').map((p) => p.segment);
  if (path.length === 0) return null;
  const back = compensate(path[0]!.from, path.map(block), -leftMm, null, false);
  if (back.alarm !== null) return null;
  return { segments: back.pieces.map((p) => p.segment), isClosed: c.isClosed };
}

function block(segment: Segment): { segment: Segment; line: number } {
  return { segment, line: 0 };
}

/** The same closed chain, starting in the middle of its longest straight piece (or longest piece when all are arcs). */
function openAtLongest(segments: readonly Segment[]): Segment[] {
  let longest = 0;
  const weight = (s: Segment): number => segmentLengthMm(s) * (s.kind === 'line' ? 1e6 : 1);
  for (let i = 1; i < segments.length; i++) if (weight(segments[i]!) > weight(segments[longest]!)) longest = i;
  const s = segments[longest];
  if (s === undefined) return [];
  const middle = pointAt(s, 0.5);
  const halves =
    s.kind === 'line'
      ? [line(s.from, middle), line(middle, s.to)]
      : [cutSegment(s, s.from, middle), cutSegment(s, middle, s.to)];
  return [halves[1]!, ...segments.slice(longest + 1), ...segments.slice(0, longest), halves[0]!];
}
