import {
  arc,
  distanceMm,
  nearestPoint,
  type Point,
  pointAt,
  reverseSegment,
  type Segment,
  segmentBox,
  segmentLengthMm,
  tangentAt,
} from '@gapwright/geometry';
import { BoxTree } from './box-tree.js';
import { distanceTo } from './distance.js';
import { cornerArc, cross, crossings, cutSegment, dot, fractionAt, leftOf, offsetBlock } from './offset-block.js';
import { SAME_POINT_MM } from './tolerances.js';

/** A boundary piece counts as on the rim of another swept region, not inside it, within this depth, mm. Far above rounding of 1e-13. */
const RIM_MM = 1e-9;

/** Two joined pieces turning by less than this are tangent, rad. */
const TANGENT_RAD = 1e-9;

/** A piece of the rim of one swept region, walked with the region on its left. */
interface Rim {
  readonly segment: Segment;
  readonly owner: number;
}

/**
 * Area, mm², of the union of discs of the given radii swept along segments, exact up to rounding: rims of the single
 * regions are cut where they cross, what lies inside another region is dropped, and the rest is summed by ∮ x dy.
 * Where rims coincide the region with the lower index counts.
 */
export function sweptAreaMm2(segments: readonly Segment[], radii: Float64Array): number {
  if (segments.length === 0) return 0;
  const regions = new BoxTree(segments, radii);
  const origin = segments[0]!.from;
  const open = rims(segments, radii).filter((rim) => !isSwallowed(rim, segments, radii, regions));
  const tree = new BoxTree(open.map((r) => r.segment));
  let twice = 0;
  for (let i = 0; i < open.length; i++) {
    const rim = open[i]!;
    for (const piece of splitAtOthers(rim.segment, i, open, tree)) {
      if (isCovered(piece, rim.owner, segments, radii, regions)) continue;
      const { from, to } = piece;
      twice += (from.x - origin.x) * (to.y - origin.y) - (to.x - origin.x) * (from.y - origin.y);
      if (piece.kind === 'arc') twice += piece.radiusMm * piece.radiusMm * (piece.sweepRad - Math.sin(piece.sweepRad));
    }
  }
  return twice / 2;
}

/** Rims of all regions; between joined pieces of equal radius only the wedge outside the corner is open. */
function rims(segments: readonly Segment[], radii: Float64Array): Rim[] {
  const out: Rim[] = [];
  for (let i = 0; i < segments.length; i++) {
    const s = segments[i]!;
    const r = radii[i]!;
    const right = offsetBlock(s, -r);
    const left = offsetBlock(s, r);
    if (right !== null) out.push({ segment: right, owner: i });
    if (left !== null) out.push({ segment: reverseSegment(left), owner: i });
    const next = segments[i + 1];
    const joined = next !== undefined && radii[i + 1] === r && distanceMm(s.to, next.from) <= SAME_POINT_MM;
    if (joined) out.push(...wedge(s, next, r, i));
    else out.push(...cap(s.to, tangentAt(s, 1), r, i));
    const before = segments[i - 1];
    const joinedBefore = before !== undefined && radii[i - 1] === r && distanceMm(before.to, s.from) <= SAME_POINT_MM;
    if (!joinedBefore) {
      const t = tangentAt(s, 0);
      out.push(...cap(s.from, { x: -t.x, y: -t.y }, r, i));
    }
  }
  return out;
}

function wedge(a: Segment, b: Segment, r: number, owner: number): Rim[] {
  const ta = tangentAt(a, 1);
  const tb = tangentAt(b, 0);
  const turn = Math.atan2(cross(ta, tb), dot(ta, tb));
  if (Math.abs(turn) < TANGENT_RAD) return [];
  // Turning left opens the right side. The region is on the left of its rim, so a left wedge is walked backwards.
  const sign = turn > 0 ? -1 : 1;
  const at = (t: Point): Point => ({ x: a.to.x + leftOf(t).x * r * sign, y: a.to.y + leftOf(t).y * r * sign });
  const forward = cornerArc(a.to, at(ta), at(tb), sign * r);
  return [{ segment: sign < 0 ? forward : reverseSegment(forward), owner }];
}

/** Half circle around an end of a path, from the right of the outward direction to its left. */
function cap(centre: Point, outward: Point, r: number, owner: number): Rim[] {
  const l = leftOf(outward);
  const right = { x: centre.x - l.x * r, y: centre.y - l.y * r };
  const left = { x: centre.x + l.x * r, y: centre.y + l.y * r };
  return [{ segment: arc(right, left, centre, Math.PI), owner }];
}

/** True when one other region holds the whole rim in its inside. */
function isSwallowed(rim: Rim, segments: readonly Segment[], radii: Float64Array, regions: BoxTree): boolean {
  const s = rim.segment;
  const middle = pointAt(s, 0.5);
  const half = segmentLengthMm(s) / 2;
  // An arc lies in the triangle of its ends and the meeting point of its end tangents.
  let apex = middle;
  if (s.kind === 'arc') {
    const k = 1 / Math.cos(s.sweepRad / 2) ** 2;
    const chordMiddle = { x: (s.from.x + s.to.x) / 2, y: (s.from.y + s.to.y) / 2 };
    if (Math.abs(s.sweepRad) > 2.5) apex = { x: Number.POSITIVE_INFINITY, y: 0 };
    else apex = { x: s.centre.x + (chordMiddle.x - s.centre.x) * k, y: s.centre.y + (chordMiddle.y - s.centre.y) * k };
  }
  return regions.some(middle.x, middle.y, middle.x, middle.y, (k) => {
    if (k === rim.owner) return false;
    const path = segments[k]!;
    const inner = radii[k]! - RIM_MM;
    const depth = inner - distanceTo(path, middle.x, middle.y);
    if (depth <= 0) return false;
    if (depth > half) return true;
    if (path.kind === 'arc') {
      // Around one centre the depth is the same all along; past the sector it falls towards the rim's own ends.
      return (
        s.kind === 'arc' &&
        distanceMm(s.centre, path.centre) <= SAME_POINT_MM &&
        distanceTo(path, s.from.x, s.from.y) < inner - 2 * SAME_POINT_MM &&
        distanceTo(path, s.to.x, s.to.y) < inner - 2 * SAME_POINT_MM
      );
    }
    return (
      distanceTo(path, s.from.x, s.from.y) < inner &&
      distanceTo(path, s.to.x, s.to.y) < inner &&
      (s.kind === 'line' || (Number.isFinite(apex.x) && distanceTo(path, apex.x, apex.y) < inner))
    );
  });
}

/** The rim cut at every place where another open rim crosses it, ends on it, or touches it. */
function splitAtOthers(s: Segment, index: number, open: readonly Rim[], tree: BoxTree): Segment[] {
  const box = segmentBox(s);
  const cuts: { t: number; p: Point }[] = [];
  const add = (p: Point): void => {
    const t = fractionAt(s, p);
    if (t > 0 && t < 1) cuts.push({ t, p });
  };
  const m = SAME_POINT_MM;
  tree.search(box.minX - m, box.minY - m, box.maxX + m, box.maxY + m, (k) => {
    if (k === index) return;
    const other = open[k]!.segment;
    for (const p of crossings(s, other)) add(p);
    for (const p of [other.from, other.to]) if (distanceTo(s, p.x, p.y) <= m) add(nearestPoint(s, p).point);
  });
  if (cuts.length === 0) return [s];
  cuts.sort((a, b) => a.t - b.t);
  const out: Segment[] = [];
  let from = s.from;
  let t = 0;
  for (const cut of cuts) {
    if (cut.t - t < 1e-13) continue;
    out.push(cutSegment(s, from, cut.p));
    from = cut.p;
    t = cut.t;
  }
  out.push(cutSegment(s, from, s.to));
  return out;
}

/** True when a rim piece without crossings lies inside another region, or on the rim of one that counts in its place. */
function isCovered(
  piece: Segment,
  owner: number,
  segments: readonly Segment[],
  radii: Float64Array,
  regions: BoxTree,
): boolean {
  const p = pointAt(piece, 0.5);
  // A place on the rim may miss its own region's box by a rounding.
  const m = SAME_POINT_MM;
  return regions.some(p.x - m, p.y - m, p.x + m, p.y + m, (k) => {
    const depth = radii[k]! - distanceTo(segments[k]!, p.x, p.y);
    if (depth > RIM_MM) return true;
    if (k >= owner || depth < -RIM_MM) return false;
    const near = nearestPoint(segments[k]!, p).point;
    const t = tangentAt(piece, 0.5);
    // Outward is to the right of the rim. Rims back to back bound two regions and both stay.
    return t.y * (p.x - near.x) - t.x * (p.y - near.y) > 0;
  });
}
