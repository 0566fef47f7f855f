import { distanceMm, type Point } from './point.js';
import { PointGrid } from './point-grid.js';
import { type Segment, segmentLengthMm } from './segment.js';

/** End 2·i is the start of run i, end 2·i + 1 its end; `end ^ 1` is the run's other end. */
export class Ends {
  private readonly x: Float64Array;
  private readonly y: Float64Array;
  private readonly mates: Int32Array;
  /** Cluster of each end: the smallest end within reach. Clusters of two are joined at once and have no member list. */
  private readonly nodes: Int32Array;
  private readonly members = new Map<number, number[]>();

  constructor(
    private readonly runs: readonly { readonly segments: readonly Segment[] }[],
    mergeMm: number,
  ) {
    const count = 2 * runs.length;
    this.x = new Float64Array(count);
    this.y = new Float64Array(count);
    this.mates = new Int32Array(count).fill(-1);
    this.nodes = new Int32Array(count);
    runs.forEach(({ segments }, i) => {
      const { from } = segments[0]!;
      const { to } = segments[segments.length - 1]!;
      this.x[2 * i] = from.x;
      this.y[2 * i] = from.y;
      this.x[2 * i + 1] = to.x;
      this.y[2 * i + 1] = to.y;
    });
    this.cluster(mergeMm);
  }

  /** The end joined to this one, or -1. */
  mate(end: number): number {
    return this.mates[end]!;
  }

  private point(end: number): Point {
    return { x: this.x[end]!, y: this.y[end]! };
  }

  private join(a: number, b: number): void {
    this.mates[a] = b;
    this.mates[b] = a;
  }

  private cluster(mergeMm: number): void {
    const { nodes } = this;
    const grid = new PointGrid(this.x, this.y, mergeMm);
    const root = (i: number): number => {
      let r = i;
      while (nodes[r] !== r) r = nodes[r]!;
      while (nodes[i] !== r) {
        const next = nodes[i]!;
        nodes[i] = r;
        i = next;
      }
      return r;
    };
    for (let i = 0; i < nodes.length; i++) nodes[i] = i;
    const isClosedRun = this.runs.map((_, i) => {
      const dx = this.x[2 * i]! - this.x[2 * i + 1]!;
      const dy = this.y[2 * i]! - this.y[2 * i + 1]!;
      return dx * dx + dy * dy <= mergeMm * mergeMm;
    });
    for (let i = 0; i < nodes.length; i++) {
      if (isClosedRun[i >> 1]) continue;
      grid.near(this.x[i]!, this.y[i]!, (j) => {
        if (j <= i || isClosedRun[j >> 1]) return;
        const a = root(i);
        const b = root(j);
        if (a !== b) nodes[Math.max(a, b)] = Math.min(a, b);
      });
    }
    const counts = new Int32Array(nodes.length);
    const firsts = new Int32Array(nodes.length).fill(-1);
    for (let i = 0; i < nodes.length; i++) {
      if (isClosedRun[i >> 1]) {
        // Closed by itself: never part of a branch.
        if (i % 2 === 0) this.join(i, i + 1);
        continue;
      }
      const node = root(i);
      nodes[i] = node;
      counts[node] = counts[node]! + 1;
      if (counts[node] === 1) firsts[node] = i;
      else if (counts[node] === 2) this.join(firsts[node]!, i);
    }
    for (let i = 0; i < nodes.length; i++) {
      if (isClosedRun[i >> 1] || counts[nodes[i]!] === 2) continue;
      this.mates[i] = -1;
      const list = this.members.get(nodes[i]!);
      if (list === undefined) this.members.set(nodes[i]!, [i]);
      else list.push(i);
    }
  }

  /** Joins free ends that lie within `joinMm` of each other, the nearest pairs first. */
  closeGaps(joinMm: number): { at: Point; sizeMm: number; first: number; second: number }[] {
    const free: number[] = [];
    for (const list of this.members.values()) if (list.length === 1) free.push(list[0]!);
    if (free.length < 2 || !(joinMm > 0)) return [];
    const x = Float64Array.from(free, (end) => this.x[end]!);
    const y = Float64Array.from(free, (end) => this.y[end]!);
    const grid = new PointGrid(x, y, joinMm);
    const pairs: { a: number; b: number; squared: number }[] = [];
    free.forEach((end, k) => {
      grid.near(x[k]!, y[k]!, (other, squared) => {
        if (other <= k) return;
        const b = free[other]!;
        // A short piece must not be bent into a loop of its own.
        if (b === (end ^ 1) && this.lengthMm(end >> 1) <= 3 * joinMm) return;
        pairs.push({ a: end, b, squared });
      });
    });
    pairs.sort((p, q) => p.squared - q.squared || p.a - q.a || p.b - q.b);
    const out: { at: Point; sizeMm: number; first: number; second: number }[] = [];
    for (const { a, b } of pairs) {
      if (this.mates[a]! >= 0 || this.mates[b]! >= 0) continue;
      this.join(a, b);
      const p = this.point(a);
      const q = this.point(b);
      const at = { x: (p.x + q.x) / 2, y: (p.y + q.y) / 2 };
      out.push({ at, sizeMm: distanceMm(p, q), first: a, second: b });
    }
    return out;
  }

  private lengthMm(run: number): number {
    let total = 0;
    for (const s of this.runs[run]!.segments) total += segmentLengthMm(s);
    return total;
  }

  /** The free end of the chain that begins at the free end `end`. */
  private farEnd(end: number): number {
    let at = end ^ 1;
    while (this.mates[at]! >= 0) at = this.mates[at]! ^ 1;
    return at;
  }

  /**
   * At places where three or more ends meet: a chain that leaves and returns is a loop of its own, a chain with a free far
   * end is a stub; when two ends remain they belong together. Everything else stays open.
   */
  resolveBranches(): { at: Point; count: number; isResolved: boolean }[] {
    const branches = [...this.members.values()].filter((list) => list.length > 2);
    for (let isChanged = true; isChanged; ) {
      isChanged = false;
      for (const list of branches) if (this.resolveAt(list)) isChanged = true;
    }
    return branches.map((list) => ({
      at: this.point(list[0]!),
      count: list.length,
      isResolved: list.every((end) => this.mates[end]! >= 0 || this.isStub(end)),
    }));
  }

  private isStub(end: number): boolean {
    return this.members.get(this.nodes[this.farEnd(end)]!)?.length === 1;
  }

  private resolveAt(list: readonly number[]): boolean {
    let isChanged = false;
    for (const end of list) {
      if (this.mates[end]! >= 0) continue;
      const far = this.farEnd(end);
      if (far !== end && this.nodes[far] === this.nodes[end]) {
        this.join(end, far);
        isChanged = true;
      }
    }
    const open = list.filter((end) => this.mates[end]! < 0);
    const candidates = open.length === 2 ? open : open.filter((end) => !this.isStub(end));
    if (candidates.length === 2 && this.farEnd(candidates[0]!) !== candidates[1]) {
      this.join(candidates[0]!, candidates[1]!);
      isChanged = true;
    }
    return isChanged;
  }
}
