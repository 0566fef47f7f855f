import { type Segment, segmentBox } from '@gapwright/geometry';

/** Children per node: small enough that a run of neighbouring pieces shares few boxes. */
const FAN = 8;

/**
 * Boxes over pieces of paths, grouped in the order of the path. Neighbours on a path are neighbours in the plane, so
 * no sorting is needed. Level 0 holds one box per piece, each further level one per `FAN` boxes below.
 */
export class BoxTree {
  /** minX, minY, maxX, maxY per box, level after level. */
  readonly boxes: Float64Array;
  /** First box of each level. */
  readonly levelStart: readonly number[];
  readonly count: number;

  constructor(segments: readonly Segment[], margins: Float64Array | null = null) {
    this.count = segments.length;
    const starts = [0];
    let total = this.count;
    for (let n = this.count; n > 1; ) {
      starts.push(total);
      n = Math.ceil(n / FAN);
      total += n;
    }
    this.levelStart = starts;
    const boxes = new Float64Array(total * 4);
    this.boxes = boxes;
    for (let i = 0; i < this.count; i++) {
      const box = segmentBox(segments[i]!);
      const margin = margins === null ? 0 : margins[i]!;
      boxes[4 * i] = box.minX - margin;
      boxes[4 * i + 1] = box.minY - margin;
      boxes[4 * i + 2] = box.maxX + margin;
      boxes[4 * i + 3] = box.maxY + margin;
    }
    for (let level = 1; level < starts.length; level++) {
      const below = starts[level - 1]!;
      const belowEnd = starts[level]!;
      const end = starts[level + 1] ?? total;
      for (let node = starts[level]!; node < end; node++) {
        const first = below + (node - starts[level]!) * FAN;
        const last = Math.min(first + FAN, belowEnd);
        let minX = Number.POSITIVE_INFINITY;
        let minY = Number.POSITIVE_INFINITY;
        let maxX = Number.NEGATIVE_INFINITY;
        let maxY = Number.NEGATIVE_INFINITY;
        for (let k = first; k < last; k++) {
          minX = Math.min(minX, boxes[4 * k]!);
          minY = Math.min(minY, boxes[4 * k + 1]!);
          maxX = Math.max(maxX, boxes[4 * k + 2]!);
          maxY = Math.max(maxY, boxes[4 * k + 3]!);
        }
        boxes[4 * node] = minX;
        boxes[4 * node + 1] = minY;
        boxes[4 * node + 2] = maxX;
        boxes[4 * node + 3] = maxY;
      }
    }
  }

  /** Calls `visit` for every piece whose box meets the given one. */
  search(minX: number, minY: number, maxX: number, maxY: number, visit: (index: number) => void): void {
    if (this.count === 0) return;
    const { boxes, levelStart } = this;
    const down = (level: number, node: number): void => {
      const k = 4 * node;
      if (boxes[k]! > maxX || boxes[k + 1]! > maxY || boxes[k + 2]! < minX || boxes[k + 3]! < minY) return;
      if (level === 0) {
        visit(node);
        return;
      }
      const below = levelStart[level - 1]!;
      const first = below + (node - levelStart[level]!) * FAN;
      const last = Math.min(first + FAN, levelStart[level]!);
      for (let child = first; child < last; child++) down(level - 1, child);
    };
    down(levelStart.length - 1, levelStart[levelStart.length - 1]!);
  }

  /**
   * The piece for which `measure` is least, and that value. From a place outside the box of piece i (margins included)
   * `measure(i)` must not be below the distance to that box; inside the box it may be negative.
   * Returns index -1 when nothing is below `limit`.
   */
  least(x: number, y: number, limit: number, measure: (index: number) => number): { index: number; value: number } {
    let best = limit;
    let bestIndex = -1;
    if (this.count === 0) return { index: -1, value: limit };
    const { boxes, levelStart } = this;
    const toBox = (node: number): number => {
      const k = 4 * node;
      const dx = Math.max(boxes[k]! - x, 0, x - boxes[k + 2]!);
      const dy = Math.max(boxes[k + 1]! - y, 0, y - boxes[k + 3]!);
      return Math.sqrt(dx * dx + dy * dy);
    };
    const down = (level: number, node: number): void => {
      if (level === 0) {
        const value = measure(node);
        if (value < best) {
          best = value;
          bestIndex = node;
        }
        return;
      }
      const below = levelStart[level - 1]!;
      const first = below + (node - levelStart[level]!) * FAN;
      const last = Math.min(first + FAN, levelStart[level]!);
      // The nearest child first, so that the others are cut off early.
      let nearest = first;
      let nearestDistance = Number.POSITIVE_INFINITY;
      for (let child = first; child < last; child++) {
        const d = toBox(child);
        if (d < nearestDistance) {
          nearestDistance = d;
          nearest = child;
        }
      }
      if (nearestDistance < best || (nearestDistance === 0 && best <= 0)) down(level - 1, nearest);
      for (let child = first; child < last; child++) {
        if (child === nearest) continue;
        const d = toBox(child);
        if (d < best || (d === 0 && best <= 0)) down(level - 1, child);
      }
    };
    down(levelStart.length - 1, levelStart[levelStart.length - 1]!);
    return { index: bestIndex, value: best };
  }
}
