import type { Random } from '@gapwright/base';
import { type Contour, contour, reverseContour } from '../contour.js';
import { distanceMm, type Point } from '../point.js';
import { arc, bulgeSegments, line, type Segment } from '../segment.js';
import { selfIntersections } from '../self-intersections.js';

/** A random closed contour with what is known about it by construction. */
export interface Sample {
  readonly name: string;
  readonly contour: Contour;
  readonly isConvex: boolean;
  /** Smallest radius of any corner, either way; 0 with sharp corners. */
  readonly smallestRadiusMm: number;
}

/** Between 5 and 200 mm across, small ones as likely as large ones. */
function size(random: Random): number {
  return 5 * 40 ** random.uniform();
}

function between(random: Random, low: number, high: number): number {
  return low + (high - low) * random.uniform();
}

/** Corners seen from the centre at growing angles, joined by lines and arcs. */
export function starShape(random: Random, count = 3 + random.below(30)): Contour {
  const radius = size(random) / 2;
  const roughness = between(random, 0.05, 0.8);
  const points: Point[] = [];
  for (let i = 0; i < count; i++) {
    const angle = ((i + 0.8 * random.uniform()) * 2 * Math.PI) / count;
    const r = radius * (1 - roughness * random.uniform());
    points.push({ x: r * Math.cos(angle), y: r * Math.sin(angle) });
  }
  const segments: Segment[] = [];
  points.forEach((p, i) => {
    const bulge = random.below(2) === 0 ? 0 : between(random, -0.6, 0.9);
    segments.push(...bulgeSegments(p, points[(i + 1) % count]!, bulge));
  });
  return contour(segments, true);
}

/** A polygon with every corner rounded by a tangent arc; undefined when some radius does not fit. */
export function roundCorners(points: readonly Point[], radiusAt: (corner: number) => number): Contour | undefined {
  const n = points.length;
  const arcs: (Segment | undefined)[] = [];
  const cuts: number[] = [];
  const starts: Point[] = [];
  const ends: Point[] = [];
  for (let i = 0; i < n; i++) {
    const before = points[(i + n - 1) % n]!;
    const here = points[i]!;
    const after = points[(i + 1) % n]!;
    const a = distanceMm(before, here);
    const b = distanceMm(here, after);
    const ux = (here.x - before.x) / a;
    const uy = (here.y - before.y) / a;
    const vx = (after.x - here.x) / b;
    const vy = (after.y - here.y) / b;
    const turn = Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
    const r = radiusAt(i);
    const cut = r * Math.tan(Math.abs(turn) / 2);
    cuts.push(cut);
    const from = { x: here.x - ux * cut, y: here.y - uy * cut };
    const to = { x: here.x + vx * cut, y: here.y + vy * cut };
    starts.push(from);
    ends.push(to);
    const side = turn > 0 ? 1 : -1;
    arcs.push(r === 0 ? undefined : arc(from, to, { x: from.x - side * uy * r, y: from.y + side * ux * r }, turn));
  }
  const segments: Segment[] = [];
  for (let i = 0; i < n; i++) {
    const next = (i + 1) % n;
    if (cuts[i]! + cuts[next]! > 0.999 * distanceMm(points[i]!, points[next]!)) return undefined;
    const rounding = arcs[i];
    if (rounding !== undefined) segments.push(rounding);
    segments.push(line(ends[i]!, starts[next]!));
  }
  return contour(segments, true);
}

function roundedPolygon(random: Random, isConvex: boolean): Sample | undefined {
  const radius = size(random) / 2;
  const count = 3 + random.below(10);
  const points: Point[] = [];
  for (let i = 0; i < count; i++) {
    const angle = ((i + 0.6 * random.uniform()) * 2 * Math.PI) / count;
    const r = isConvex ? radius : radius * between(random, 0.35, 1);
    points.push({ x: r * Math.cos(angle), y: r * Math.sin(angle) });
  }
  let smallest = Infinity;
  const made = roundCorners(points, () => {
    const r = radius * between(random, 0.01, 0.12);
    smallest = Math.min(smallest, r);
    return r;
  });
  const name = isConvex ? 'convex rounded polygon' : 'rounded polygon';
  return made === undefined ? undefined : { name, contour: made, isConvex, smallestRadiusMm: smallest };
}

/** A block with slots from above: sharp, or with full round bottoms. */
export function comb(random: Random, count = 1 + random.below(12)): Contour {
  const pitch = size(random) / count;
  const height = between(random, 0.5, 3) * pitch;
  const width = pitch * between(random, 0.1, 0.9);
  const isRound = random.below(2) === 0 && width < height;
  const segments: Segment[] = [];
  let at: Point = { x: 0, y: 0 };
  const go = (x: number, y: number): void => {
    const to = { x, y };
    segments.push(line(at, to));
    at = to;
  };
  const depth = Math.min(height * between(random, 0.2, 0.9), height - (isRound ? width / 2 : 0) - 0.05 * height);
  const total = count * pitch;
  go(total, 0);
  go(total, height);
  for (let i = count - 1; i >= 0; i--) {
    const right = i * pitch + (pitch + width) / 2;
    const left = right - width;
    go(right, height);
    go(right, height - depth);
    if (isRound) {
      const to = { x: left, y: at.y };
      segments.push(arc(at, to, { x: (left + right) / 2, y: at.y }, -Math.PI));
      at = to;
    } else go(left, height - depth);
    go(left, height);
  }
  go(0, height);
  segments.push(line(at, { x: 0, y: 0 }));
  return contour(segments, true);
}

/** A wheel whose teeth are lines between root and tip arcs: four segments a tooth, eight with rounded corners. */
export function gear(teeth: number, tipMm: number, rootMm: number, cornerMm = 0): Contour {
  const pitch = (2 * Math.PI) / teeth;
  const at = (r: number, angle: number): Point => ({ x: r * Math.cos(angle), y: r * Math.sin(angle) });
  const segments: Segment[] = [];
  const centre = { x: 0, y: 0 };
  const corners: Point[] = [];
  for (let i = 0; i < teeth; i++) {
    const a = i * pitch;
    corners.push(
      at(rootMm, a + 0.3 * pitch),
      at(tipMm, a + 0.4 * pitch),
      at(tipMm, a + 0.6 * pitch),
      at(rootMm, a + 0.7 * pitch),
    );
  }
  if (cornerMm > 0) {
    const made = roundCorners(corners, () => cornerMm);
    if (made !== undefined) return made;
  }
  for (let i = 0; i < teeth; i++) {
    const [a, b, c, d] = corners.slice(4 * i, 4 * i + 4) as [Point, Point, Point, Point];
    const next = corners[(4 * i + 4) % corners.length]!;
    segments.push(line(a, b), arc(b, c, centre, 0.2 * pitch), line(c, d), arc(d, next, centre, 0.6 * pitch));
  }
  return contour(segments, true);
}

function anyGear(random: Random): Sample {
  const tip = size(random) / 2;
  const root = tip * between(random, 0.6, 0.95);
  const teeth = 5 + random.below(40);
  const corner = random.below(2) === 0 ? 0 : 0.02 * tip * random.uniform();
  return { name: 'gear', contour: gear(teeth, tip, root, corner), isConvex: false, smallestRadiusMm: 0 };
}

function draw(random: Random): Sample | undefined {
  switch (random.below(5)) {
    case 0:
      return { name: 'star', contour: starShape(random), isConvex: false, smallestRadiusMm: 0 };
    case 1:
      return roundedPolygon(random, false);
    case 2:
      return roundedPolygon(random, true);
    case 3:
      return { name: 'comb', contour: comb(random), isConvex: false, smallestRadiusMm: 0 };
    default:
      return anyGear(random);
  }
}

/**
 * The next random simple contour, counter-clockwise or clockwise. Draws whose corner radii do not fit or whose arcs
 * cross each other are no contours of a part and are drawn again.
 */
export function sampleContour(random: Random): Sample {
  for (;;) {
    const sample = draw(random);
    if (sample === undefined || selfIntersections(sample.contour, 1e-6).length > 0) continue;
    return random.below(2) === 0 ? sample : { ...sample, contour: reverseContour(sample.contour) };
  }
}
