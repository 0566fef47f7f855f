import type { Point, Segment } from '@gapwright/geometry';
import { BoxTree } from './box-tree.js';
import { distanceTo } from './distance.js';
import type { ProofSetup } from './setup.js';
import { UNCUT_MM } from './tolerances.js';
import type { Walk, WireMove } from './walk.js';

/** Pieces of the wire's path with the radius each one erodes, and an index for the nearest. */
export class Sweep {
  readonly segments: Segment[];
  readonly radii: Float64Array;
  private readonly tree: BoxTree;

  constructor(
    readonly moves: readonly WireMove[],
    radiusOf: (move: WireMove) => number,
  ) {
    this.segments = moves.map((m) => m.segment);
    this.radii = Float64Array.from(moves, radiusOf);
    this.tree = new BoxTree(this.segments, this.radii);
  }

  /** How far a place lies outside the eroded region (negative: inside), at most {@link UNCUT_MM}, and by which piece. */
  clearance(p: Point): { readonly index: number; readonly value: number } {
    const { segments, radii } = this;
    return this.tree.least(p.x, p.y, UNCUT_MM, (i) => distanceTo(segments[i]!, p.x, p.y) - radii[i]!);
  }

  /** Pieces whose swept region may meet the box around a place. */
  near(p: Point, marginMm: number, visit: (index: number) => void): void {
    this.tree.search(p.x - marginMm, p.y - marginMm, p.x + marginMm, p.y + marginMm, visit);
  }
}

/** The radius a move erodes: half the wire and the gap of its level; unknown levels erode by the wire alone. */
export function radiusOf(setup: ProofSetup): (move: WireMove) => number {
  const gaps = new Map(setup.levels.map((l) => [l.level, l.gapMm]));
  const half = setup.wireDiameterMm / 2;
  return (move) => half + (move.level === null ? 0 : (gaps.get(move.level) ?? 0));
}

/** Moves that erode: with wire, not rapid. */
export function cuttingMoves(walk: Walk): WireMove[] {
  return walk.moves.filter((m) => m.threaded && !m.rapid);
}
