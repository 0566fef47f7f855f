import { type Contour, type Point, type Segment, segmentBox } from '@gapwright/geometry';
import { turnsParity } from './side-of.js';
import { SAME_POINT_MM } from './tolerances.js';

/** Most bands: memory stays bounded for contours of tens of thousands of pieces. */
const MOST_BANDS = 4096;

/**
 * A closed contour sorted into bands of equal height, to ask again and again whether places lie inside. Only pieces
 * whose box meets the place's band can turn the answer: a chord that crosses its level, or an arc whose bow holds it.
 */
export class InsideIndex {
  private readonly bands: Segment[][];
  private readonly minY: number;
  private readonly perMm: number;

  constructor(c: Contour) {
    const boxes = c.segments.map(segmentBox);
    const minY = boxes.reduce((m, b) => Math.min(m, b.minY), Number.POSITIVE_INFINITY) - SAME_POINT_MM;
    const maxY = boxes.reduce((m, b) => Math.max(m, b.maxY), Number.NEGATIVE_INFINITY) + SAME_POINT_MM;
    const count = Math.min(MOST_BANDS, Math.max(1, c.segments.length));
    this.minY = minY;
    this.perMm = c.segments.length === 0 ? 0 : count / (maxY - minY);
    this.bands = Array.from({ length: count }, () => []);
    c.segments.forEach((s, i) => {
      const { minY: low, maxY: high } = boxes[i]!;
      const last = this.bandAt(high + SAME_POINT_MM);
      for (let k = this.bandAt(low - SAME_POINT_MM); k <= last; k++) this.bands[k]!.push(s);
    });
  }

  /** The same answer as `isInside`. */
  has(p: Point): boolean {
    const y = (p.y - this.minY) * this.perMm;
    if (!(y >= 0 && y < this.bands.length)) return false;
    let inside = false;
    for (const s of this.bands[this.bandAt(p.y)]!) if (turnsParity(s, p)) inside = !inside;
    return inside;
  }

  /** Grows with y, so that a piece is in the band of every level between its ends. */
  private bandAt(y: number): number {
    return Math.min(this.bands.length - 1, Math.max(0, Math.floor((y - this.minY) * this.perMm)));
  }
}
