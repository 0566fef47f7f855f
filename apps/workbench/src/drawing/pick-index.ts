import type { Point } from '@gapwright/geometry';
import type { Scene, SceneLayer } from '@gapwright/job';
import type Flatbush from 'flatbush';
import {
  CENTRE_X,
  CENTRE_Y,
  nearestOn,
  pathOfSegment,
  RADIUS,
  STRIDE,
  SWEEP,
  segmentBoxInto,
  segmentCount,
} from './segments.js';
import { PICK_PENALTY_PX } from './types.js';

/**
 * Arcs that turn at least this far take their centre into their box, so that a search around a centre finds them.
 * Flatter ones (fitted splines) would make boxes far larger than themselves, and nobody measures to their centres.
 */
const CENTRE_SWEEP_RAD = 0.25;
/** Candidates weighed per search; where more lie under the cursor, lines are closer than a pixel and any of them will do. */
const MOST_CANDIDATES = 600;

/** Puts all segments of all layers into a packed tree of boxes; null for a scene without segments. */
export function fillPickIndex(Tree: typeof Flatbush, scene: Scene): ArrayBuffer | null {
  const total = scene.layers.reduce((sum, layer) => sum + segmentCount(layer.paths), 0);
  if (total === 0) return null;
  const tree = new Tree(total);
  const box = new Float64Array(4);
  for (const { paths } of scene.layers) {
    const { values } = paths;
    for (let at = 0; at < values.length; at += STRIDE) {
      segmentBoxInto(values, at, box, 0);
      if (values[at + RADIUS] !== 0 && Math.abs(values[at + SWEEP]!) >= CENTRE_SWEEP_RAD) {
        const cx = values[at + CENTRE_X]!;
        const cy = values[at + CENTRE_Y]!;
        tree.add(Math.min(box[0]!, cx), Math.min(box[1]!, cy), Math.max(box[2]!, cx), Math.max(box[3]!, cy));
      } else {
        tree.add(box[0]!, box[1]!, box[2]!, box[3]!);
      }
    }
  }
  tree.finish();
  return tree.data as ArrayBuffer;
}

/** A segment under the cursor. */
export interface SegmentHit {
  readonly layer: number;
  readonly path: number;
  /** Index of the segment in its layer. */
  readonly segment: number;
  readonly point: Point;
  readonly distanceMm: number;
}

/** Finds segments near a point. */
export class PickIndex {
  private readonly firsts: number[] = [];

  constructor(
    private readonly scene: Scene,
    private readonly tree: Flatbush,
  ) {
    let first = 0;
    for (const layer of scene.layers) {
      this.firsts.push(first);
      first += segmentCount(layer.paths);
    }
  }

  /** The nearest segment within `reachMm`; layers of more importance win when distances differ by less than their handicap. */
  nearest(at: Point, reachMm: number, pxPerMm: number, isShown: (layer: SceneLayer) => boolean): SegmentHit | null {
    let best: SegmentHit | null = null;
    let bestScore = Number.POSITIVE_INFINITY;
    this.each(at, reachMm, isShown, (layer, segment) => {
      const { paths, kind } = this.scene.layers[layer]!;
      const near = nearestOn(paths.values, segment * STRIDE, at.x, at.y);
      const score = near.distanceMm + PICK_PENALTY_PX[kind] / pxPerMm;
      if (near.distanceMm > reachMm || score >= bestScore) return;
      bestScore = score;
      best = {
        layer,
        path: pathOfSegment(paths, segment),
        segment,
        point: { x: near.x, y: near.y },
        distanceMm: near.distanceMm,
      };
    });
    return best;
  }

  /** Calls back for every segment whose box lies within `reachMm`. */
  each(
    at: Point,
    reachMm: number,
    isShown: (layer: SceneLayer) => boolean,
    visit: (layer: number, segment: number) => void,
  ): void {
    let left = MOST_CANDIDATES;
    const shown = this.scene.layers.map(isShown);
    this.tree.search(at.x - reachMm, at.y - reachMm, at.x + reachMm, at.y + reachMm, (item) => {
      if (left <= 0) return false;
      let layer = this.firsts.length - 1;
      while (layer > 0 && this.firsts[layer]! > item) layer--;
      if (shown[layer]) {
        left--;
        visit(layer, item - this.firsts[layer]!);
      }
      return false;
    });
  }
}
