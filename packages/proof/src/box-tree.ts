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
    this.some(minX, minY, maxX, maxY, (index) => {
      visit(index);
      return false;
    });
  }

  /** True as soon as `test` holds for a piece whose box meets the given one; the rest are not asked. */
  some(minX: number, minY: number, maxX: number, maxY: number, test: (index: number) => boolean): boolean {
    if (this.count === 0) return false;
    const top = this.levelStart.length - 1;
    return this.someBelow(top, this.levelStart[top]!, minX, minY, maxX, maxY, test);
  }

  private someBelow(
    level: number,
    node: number,
    minX: number,
    minY: number,
    maxX: number,
    maxY: number,
    test: (index: number) => boolean,
  ): boolean {
    const { boxes, levelStart } = this;
    const k = 4 * node;
    if (boxes[k]! > maxX || boxes[k + 1]! > maxY || boxes[k + 2]! < minX || boxes[k + 3]! < minY) return false;
    if (level === 0) return test(node);
    const first = levelStart[level - 1]! + (node - levelStart[level]!) * FAN;
    const last = Math.min(first + FAN, levelStart[level]!);
    for (let child = first; child < last; child++) {
      if (this.someBelow(level - 1, child, minX, minY, maxX, maxY, test)) return true;
    }
    return false;
  }

  /**
   * The piece for which `measure` is least, and that value. From a place outside the box of piece i (margins included)
   * `measure(i)` must not be below the distance to that box; inside the box it may be negative.
   * Returns index -1 when nothing is below `limit`.
   */
  least(x: number, y: number, limit: number, measure: (index: number) => number): { index: number; value: number } {
    const found = { index: -1, value: limit };
    const top = this.levelStart.length - 1;
    if (this.count > 0) this.leastBelow(top, this.levelStart[top]!, x, y, measure, found);
    return found;
  }

  private leastBelow(
    level: number,
    node: number,
    x: number,
    y: number,
    measure: (index: number) => number,
    found: { index: number; value: number },
  ): void {
    if (level === 0) {
      const value = measure(node);
      if (value < found.value) {
        found.value = value;
        found.index = node;
      }
      return;
    }
    const { levelStart } = this;
    const first = levelStart[level - 1]! + (node - levelStart[level]!) * FAN;
    const last = Math.min(first + FAN, levelStart[level]!);
    // The nearest child first, so that the others are cut off early.
    let nearest = first;
    let nearestSquared = Number.POSITIVE_INFINITY;
    for (let child = first; child < last; child++) {
      const d = this.squaredToBox(child, x, y);
      if (d < nearestSquared) {
        nearestSquared = d;
        nearest = child;
      }
    }
    if (mayBeLess(nearestSquared, found.value)) this.leastBelow(level - 1, nearest, x, y, measure, found);
    for (let child = first; child < last; child++) {
      if (child !== nearest && mayBeLess(this.squaredToBox(child, x, y), found.value))
        this.leastBelow(level - 1, child, x, y, measure, found);
    }
  }

  /** Square of the distance to a box, mm²; 0 inside it. */
  private squaredToBox(node: number, x: number, y: number): number {
    const { boxes } = this;
    const k = 4 * node;
    const left = boxes[k]! - x;
    const right = x - boxes[k + 2]!;
    const below = boxes[k + 1]! - y;
    const above = y - boxes[k + 3]!;
    const dx = left > 0 ? left : right > 0 ? right : 0;
    const dy = below > 0 ? below : above > 0 ? above : 0;
    return dx * dx + dy * dy;
  }
}

/** True unless the distance to a box already rules out anything below `best`; inside a box values may be negative. */
function mayBeLess(squaredToBox: number, best: number): boolean {
  return best > 0 ? squaredToBox < best * best : squaredToBox === 0;
}
