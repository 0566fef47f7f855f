import { type Point, pointAt, type Segment } from '@gapwright/geometry';

/** Angle step that keeps a chord within `sagMm` of an arc of the given radius, rad. */
function stepFor(radiusMm: number, sagMm: number): number {
  return 2 * Math.acos(Math.max(0, 1 - sagMm / radiusMm));
}

/** Points along a segment whose chords stay within `sagMm`. */
export function flatten(s: Segment, sagMm: number): Point[] {
  const count = s.kind === 'line' ? 1 : Math.max(1, Math.ceil(Math.abs(s.sweepRad) / stepFor(s.radiusMm, sagMm)));
  return Array.from({ length: count + 1 }, (_, k) => pointAt(s, k / count));
}

/** Chords of a round end inside a flattened arc: its neighbours cover all but a sliver of it. */
const INNER_CHORDS = 6;

/**
 * Polygons whose union is the disc of radius `radiusMm` swept along the segment, one per straight piece of the
 * flattened path; at the segment's own ends the chords stay within `sagMm` of the round. Counter-clockwise.
 */
export function capsules(s: Segment, radiusMm: number, sagMm: number): Point[][] {
  const path = flatten(s, sagMm);
  const fine = Math.max(INNER_CHORDS, Math.ceil(Math.PI / stepFor(radiusMm, sagMm)));
  const out: Point[][] = [];
  for (let i = 1; i < path.length; i++) {
    const a = path[i - 1]!;
    const b = path[i]!;
    const heading = Math.atan2(b.y - a.y, b.x - a.x);
    const ring: Point[] = [];
    for (const [centre, from, count] of [
      [b, heading - Math.PI / 2, i === path.length - 1 ? fine : INNER_CHORDS],
      [a, heading + Math.PI / 2, i === 1 ? fine : INNER_CHORDS],
    ] as const) {
      for (let k = 0; k <= count; k++) {
        const angle = from + (Math.PI * k) / count;
        ring.push({ x: centre.x + radiusMm * Math.cos(angle), y: centre.y + radiusMm * Math.sin(angle) });
      }
    }
    out.push(ring);
  }
  return out;
}
