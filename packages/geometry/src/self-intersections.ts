import { BoxTree } from './box-tree.js';
import type { Contour } from './contour.js';
import { Crossings, crossPieces } from './crossings.js';
import { type Pieces, packSegments, STRIDE } from './pieces.js';
import type { Point } from './point.js';

const crossings = new Crossings();

/**
 * Where the contour crosses, touches or overlaps itself (ends of shared stretches), mm. Neighbours meeting at their
 * joint are fine; neighbours that meet elsewhere or run back over each other are not. Empty for a simple contour.
 * With `most`, the search ends once that many places are known.
 */
export function selfIntersections(c: Contour, mergeMm: number, most = Number.POSITIVE_INFINITY): Point[] {
  const pieces = packSegments(c.segments);
  const tree = new BoxTree();
  tree.build(pieces);
  const out: Point[] = [];
  visitSelfCrossings(pieces, tree, c.isClosed, mergeMm, (x, y) => {
    if (!out.some((p) => Math.abs(p.x - x) <= mergeMm && Math.abs(p.y - y) <= mergeMm)) out.push({ x, y });
    return out.length < most;
  });
  return out;
}

/** True as soon as one self-crossing is found. The tree must be built over the pieces. */
export function crossesItself(pieces: Pieces, tree: BoxTree, isClosed: boolean, mergeMm: number): boolean {
  let isFound = false;
  visitSelfCrossings(pieces, tree, isClosed, mergeMm, () => {
    isFound = true;
    return false;
  });
  return isFound;
}

/** Calls `visit` for each meeting place until it returns false. */
function visitSelfCrossings(
  pieces: Pieces,
  tree: BoxTree,
  isClosed: boolean,
  mergeMm: number,
  visit: (x: number, y: number) => boolean,
): void {
  const n = pieces.count;
  const d = pieces.data;
  tree.findPairs(mergeMm);
  for (let p = 0; p < tree.pairCount; p++) {
    const i = tree.pairs[2 * p]!;
    const j = tree.pairs[2 * p + 1]!;
    const a = i * STRIDE;
    const b = j * STRIDE;
    const follows = j === i + 1;
    const wraps = isClosed && i === 0 && j === n - 1;
    if ((follows || wraps) && d[a + 7] === 0 && d[b + 7] === 0 && !runsBack(d, follows ? a : b, follows ? b : a))
      continue;
    crossPieces(d, i, d, j, mergeMm, crossings);
    // Two pieces there and back meet at their joints alone, and enclose nothing.
    if (follows && wraps && crossings.isOverlapping) {
      if (!visit(d[a]!, d[a + 1]!)) return;
      continue;
    }
    for (let k = 0; k < crossings.count; k++) {
      const x = crossings.x[k]!;
      const y = crossings.y[k]!;
      if (follows && isJoint(x, y, d[a + 2]!, d[a + 3]!, mergeMm)) continue;
      if (wraps && isJoint(x, y, d[a]!, d[a + 1]!, mergeMm)) continue;
      // What rounding makes of two smoothly joined pieces lies in the joint's vicinity along a shared tangent.
      if ((follows || wraps) && crossings.isNearTangent && !crossings.isOverlapping) continue;
      if (!visit(x, y)) return;
    }
  }
}

function isJoint(x: number, y: number, jx: number, jy: number, mergeMm: number): boolean {
  const dx = x - jx;
  const dy = y - jy;
  // Two merge lengths: the joint's two ends may each be off by one.
  return dx * dx + dy * dy <= 4 * mergeMm * mergeMm;
}

function runsBack(d: Float64Array, a: number, b: number): boolean {
  return (d[a + 2]! - d[a]!) * (d[b + 2]! - d[b]!) + (d[a + 3]! - d[a + 1]!) * (d[b + 3]! - d[b + 1]!) < 0;
}
