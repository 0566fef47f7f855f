import { distanceSquared, type Pieces, writeBox } from './pieces.js';

/** Boxes per node. Eight keeps a node's pair tests few and the tree shallow. */
const FAN = 8;

/**
 * A packed tree of bounding boxes over pieces in the order given. Neighbours along a contour are neighbours in the
 * plane, so no sorting is needed and building costs one pass.
 */
export class BoxTree {
  private boxes = new Float64Array(0);
  /** Start of each level in `boxes`, counted in boxes; level 0 is the pieces themselves. */
  private readonly start: number[] = [];
  private readonly size: number[] = [];
  private levels = 0;
  private stack = new Int32Array(256);
  pairs = new Int32Array(1024);
  pairCount = 0;

  build(pieces: Pieces): void {
    const n = pieces.count;
    this.levels = 0;
    let total = 0;
    for (let size = n; ; size = Math.ceil(size / FAN)) {
      this.start[this.levels] = total;
      this.size[this.levels] = size;
      this.levels++;
      total += size;
      if (size <= 1) break;
    }
    if (this.boxes.length < total * 4) this.boxes = new Float64Array(total * 6);
    const boxes = this.boxes;
    const { data } = pieces;
    for (let i = 0; i < n; i++) writeBox(data, i, boxes, i * 4);
    for (let level = 1; level < this.levels; level++) {
      const below = this.start[level - 1]!;
      const belowSize = this.size[level - 1]!;
      const here = this.start[level]!;
      for (let i = 0; i < this.size[level]!; i++) {
        let minX = Infinity;
        let minY = Infinity;
        let maxX = -Infinity;
        let maxY = -Infinity;
        const end = Math.min(belowSize, (i + 1) * FAN);
        for (let c = i * FAN; c < end; c++) {
          const k = (below + c) * 4;
          if (boxes[k]! < minX) minX = boxes[k]!;
          if (boxes[k + 1]! < minY) minY = boxes[k + 1]!;
          if (boxes[k + 2]! > maxX) maxX = boxes[k + 2]!;
          if (boxes[k + 3]! > maxY) maxY = boxes[k + 3]!;
        }
        const k = (here + i) * 4;
        boxes[k] = minX;
        boxes[k + 1] = minY;
        boxes[k + 2] = maxX;
        boxes[k + 3] = maxY;
      }
    }
  }

  /** Fills `pairs` with every pair (i < j) of pieces whose boxes, grown by `slackMm`, overlap. */
  findPairs(slackMm: number): void {
    this.pairCount = 0;
    if (this.size[0]! > 1) this.pairsWithin(this.levels - 1, 0, slackMm);
  }

  private pairsWithin(level: number, node: number, slack: number): void {
    const below = level - 1;
    const first = node * FAN;
    const end = Math.min(this.size[below]!, first + FAN);
    for (let a = first; a < end; a++) {
      if (below > 0) this.pairsWithin(below, a, slack);
      for (let b = a + 1; b < end; b++) {
        if (this.overlaps(below, a, b, slack)) this.pairsBetween(below, a, b, slack);
      }
    }
  }

  private pairsBetween(level: number, a: number, b: number, slack: number): void {
    if (level === 0) {
      if (2 * this.pairCount + 2 > this.pairs.length) {
        const grown = new Int32Array(this.pairs.length * 2);
        grown.set(this.pairs);
        this.pairs = grown;
      }
      this.pairs[2 * this.pairCount] = a;
      this.pairs[2 * this.pairCount + 1] = b;
      this.pairCount++;
      return;
    }
    const below = level - 1;
    const size = this.size[below]!;
    const endA = Math.min(size, (a + 1) * FAN);
    const endB = Math.min(size, (b + 1) * FAN);
    const boxes = this.boxes;
    const kb = (this.start[level]! + b) * 4;
    const minX = boxes[kb]! - slack;
    const minY = boxes[kb + 1]! - slack;
    const maxX = boxes[kb + 2]! + slack;
    const maxY = boxes[kb + 3]! + slack;
    for (let i = a * FAN; i < endA; i++) {
      const ki = (this.start[below]! + i) * 4;
      if (boxes[ki]! > maxX || boxes[ki + 2]! < minX || boxes[ki + 1]! > maxY || boxes[ki + 3]! < minY) continue;
      for (let j = b * FAN; j < endB; j++) {
        if (this.overlaps(below, i, j, slack)) this.pairsBetween(below, i, j, slack);
      }
    }
  }

  private overlaps(level: number, a: number, b: number, slack: number): boolean {
    const boxes = this.boxes;
    const ka = (this.start[level]! + a) * 4;
    const kb = (this.start[level]! + b) * 4;
    return (
      boxes[ka]! <= boxes[kb + 2]! + slack &&
      boxes[ka + 2]! >= boxes[kb]! - slack &&
      boxes[ka + 1]! <= boxes[kb + 3]! + slack &&
      boxes[ka + 3]! >= boxes[kb + 1]! - slack
    );
  }

  /** Index of some piece nearer to the point than `limitMm`, or -1. */
  anyCloserThan(pieces: Pieces, x: number, y: number, limitMm: number): number {
    if (limitMm <= 0 || pieces.count === 0) return -1;
    const limit = limitMm * limitMm;
    const boxes = this.boxes;
    const { data } = pieces;
    let top = 0;
    let stack = this.stack;
    stack[top++] = this.levels - 1;
    stack[top++] = 0;
    while (top > 0) {
      const node = stack[--top]!;
      const level = stack[--top]!;
      if (level === 0) {
        if (distanceSquared(data, node, x, y) < limit) return node;
        continue;
      }
      const below = level - 1;
      const end = Math.min(this.size[below]!, (node + 1) * FAN);
      const from = this.start[below]!;
      if (top + 2 * FAN > stack.length) {
        const grown = new Int32Array(stack.length * 2);
        grown.set(stack);
        this.stack = stack = grown;
      }
      for (let c = node * FAN; c < end; c++) {
        const k = (from + c) * 4;
        const dx = x < boxes[k]! ? boxes[k]! - x : x > boxes[k + 2]! ? x - boxes[k + 2]! : 0;
        const dy = y < boxes[k + 1]! ? boxes[k + 1]! - y : y > boxes[k + 3]! ? y - boxes[k + 3]! : 0;
        if (dx * dx + dy * dy < limit) {
          stack[top++] = below;
          stack[top++] = c;
        }
      }
    }
    return -1;
  }

  /** Index of the nearest piece, or -1 when there is none. Ties go to any of the equally near ones. */
  nearest(pieces: Pieces, x: number, y: number): number {
    if (pieces.count === 0) return -1;
    this.bestSquared = Infinity;
    this.best = -1;
    this.descend(pieces.data, this.levels - 1, 0, x, y);
    return this.best;
  }

  private best = -1;
  private bestSquared = Infinity;

  private descend(data: Float64Array, level: number, node: number, x: number, y: number): void {
    if (level === 0) {
      const squared = distanceSquared(data, node, x, y);
      if (squared < this.bestSquared) {
        this.bestSquared = squared;
        this.best = node;
      }
      return;
    }
    const below = level - 1;
    const first = node * FAN;
    const end = Math.min(this.size[below]!, first + FAN);
    // Nearest child first: it usually rules the others out.
    let nearChild = first;
    let nearSquared = Infinity;
    for (let c = first; c < end; c++) {
      const squared = this.boxDistanceSquared(below, c, x, y);
      if (squared < nearSquared) {
        nearSquared = squared;
        nearChild = c;
      }
    }
    if (nearSquared < this.bestSquared) this.descend(data, below, nearChild, x, y);
    for (let c = first; c < end; c++) {
      if (c !== nearChild && this.boxDistanceSquared(below, c, x, y) < this.bestSquared) {
        this.descend(data, below, c, x, y);
      }
    }
  }

  private boxDistanceSquared(level: number, i: number, x: number, y: number): number {
    const boxes = this.boxes;
    const k = (this.start[level]! + i) * 4;
    const dx = x < boxes[k]! ? boxes[k]! - x : x > boxes[k + 2]! ? x - boxes[k + 2]! : 0;
    const dy = y < boxes[k + 1]! ? boxes[k + 1]! - y : y > boxes[k + 3]! ? y - boxes[k + 3]! : 0;
    return dx * dx + dy * dy;
  }

  /** Calls `visit` for every piece whose box touches the given one. */
  search(minX: number, minY: number, maxX: number, maxY: number, visit: (index: number) => void): void {
    if (this.size[0] === 0) return;
    const walk = (level: number, node: number): void => {
      const k = (this.start[level]! + node) * 4;
      const boxes = this.boxes;
      if (boxes[k]! > maxX || boxes[k + 2]! < minX || boxes[k + 1]! > maxY || boxes[k + 3]! < minY) return;
      if (level === 0) {
        visit(node);
        return;
      }
      const end = Math.min(this.size[level - 1]!, (node + 1) * FAN);
      for (let c = node * FAN; c < end; c++) walk(level - 1, c);
    };
    walk(this.levels - 1, 0);
  }
}
