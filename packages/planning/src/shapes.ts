import {
  type Box,
  type Contour,
  contour,
  contourBox,
  indexSegments,
  line,
  offsetContour,
  segmentLengthMm,
  tangentAt,
} from '@gapwright/geometry';
import { type TightBlock, tightBlocks } from './compensation.js';
import { placeAt, type Walk, walkOf } from './contour-walk.js';
import {
  cornerDistances,
  type EntryPlace,
  entryPlaces,
  furtherPlaces,
  roomAt,
  type Surroundings,
  surroundings,
} from './entry-places.js';
import type { NestedFeature } from './features.js';
import type { Shape } from './shape.js';

/** Shapes of all features, each as drawn and, where an agreed corner radius changes it, as it will be programmed. */
export interface DrawnShape {
  readonly drawn: Shape;
  /**
   * With all inside corners rounded to the agreed radius; null when no wire can need it (no inside arc below the radius
   * and no inside corners closer together than it asks) or no such contour exists.
   */
  readonly rounded: Shape | null;
}

/** Builds what every wire's plan needs of the features, once. `lines` are all contours nothing may be burned into. */
export function buildShapes(
  features: readonly NestedFeature[],
  lines: readonly Contour[],
  agreedCornerRadiusMm: number,
): DrawnShape[] {
  const around = surroundingsOf(lines);
  return features.map((nested) => {
    const { feature } = nested;
    const drawn = shapeOf(nested, walkOf(feature.contour), around);
    const isTight = feature.minInsideRadiusMm !== null && feature.minInsideRadiusMm < agreedCornerRadiusMm;
    const isCrowded = agreedCornerRadiusMm > 0 && drawn.tightBlocks(agreedCornerRadiusMm).length > 0;
    if (!isTight && !isCrowded) return { drawn, rounded: null };
    const round = roundedContour(feature.contour, agreedCornerRadiusMm);
    return { drawn, rounded: round === null ? null : shapeOf(nested, walkOf(round), around) };
  });
}

/** Room found by shrinking a disc may fall short of a wall straight across by this, mm. */
const ROOM_SLACK_MM = 1e-5;

/** Wires need less room beside a contour than this, mm: so one answer serves them all. */
const ROOM_ASKED_MM = 0.5;

function shapeOf({ feature, depth, pieceAreaMm2 }: NestedFeature, walk: Walk, around: Surroundings): Shape {
  const box = contourBox(walk.contour);
  const dx = box.maxX - box.minX;
  const dy = box.maxY - box.minY;
  const entries = feature.role === 'open' ? [openEntry(walk, around)] : entryPlaces(walk, around);
  const rooms = new Map<number, number>();
  const hasRoomMm = (s: number, mm: number): boolean => {
    let room = rooms.get(s);
    if (room === undefined || (room >= ROOM_ASKED_MM - ROOM_SLACK_MM && mm > ROOM_ASKED_MM)) {
      const { at, tangent } = placeAt(walk, s);
      room = roomAt(at, { x: tangent.y, y: -tangent.x }, around, Math.max(mm, ROOM_ASKED_MM));
      rooms.set(s, room);
    }
    return room >= mm - ROOM_SLACK_MM;
  };
  let distances: ((s: number) => number) | undefined;
  let further: EntryPlace[] | undefined;
  const furtherEntries = (): EntryPlace[] => {
    further ??= feature.role === 'open' ? [] : furtherPlaces(walk, around);
    return further;
  };
  const tight = new Map<number, TightBlock[]>();
  const tightAt = (offsetMm: number): TightBlock[] => {
    let found = tight.get(offsetMm);
    if (found === undefined) tight.set(offsetMm, (found = tightBlocks(walk.contour, offsetMm)));
    return found;
  };
  return {
    feature,
    depth,
    walk,
    box,
    around,
    entries,
    furtherEntries,
    hasRoomMm,
    cornerDistanceMm: (s) => (distances ??= cornerDistances(walk))(s),
    tightBlocks: tightAt,
    pieceAreaMm2,
    armMm: Math.sqrt(dx * dx + dy * dy) / 2,
  };
}

/**
 * Open cuts begin at their start, from before it and from the waste's side: so the wire never crosses the line's
 * extension while compensation comes on.
 */
function openEntry(walk: Walk, around: Surroundings): EntryPlace {
  const { at, tangent } = placeAt(walk, 0);
  const half = Math.SQRT1_2;
  const normal = { x: half * (tangent.y - tangent.x), y: half * (-tangent.x - tangent.y) };
  return {
    s: 0,
    at,
    base: at,
    normal,
    roomMm: roomAt(at, normal, around),
    smoothBeforeMm: walk.lengthMm,
    smoothAfterMm: walk.lengthMm,
    cornerBefore: 0,
    cornerAfter: 0,
  };
}

/**
 * The contour with every inside corner rounded to the radius: offset to the wire's side and back, which is what a disc
 * of that radius can reach. Null when the contour falls apart on the way.
 */
function roundedContour(c: Contour, radiusMm: number): Contour | null {
  // The part is left of travel, so the wire's side is the negative offset.
  const there = offsetContour(c, -radiusMm);
  if (there.length !== 1) return null;
  const back = offsetContour(there[0]!, radiusMm);
  return back.length === 1 ? withoutHairArcs(back[0]!) : null;
}

/**
 * Arcs between two lines shorter than this are left out, mm: rounding of program text would turn them so far that their
 * neighbours' offset paths no longer meet. What stays in the corner is far below a tenth of a micrometre.
 */
const HAIR_ARC_MM = 0.01;

/** The contour with the lines beside hair-thin arcs run on to where they meet. */
function withoutHairArcs(c: Contour): Contour {
  const segments = [...c.segments];
  for (let i = 0; i < segments.length && segments.length > 3; i++) {
    const n = segments.length;
    const s = segments[i]!;
    const before = segments[(i + n - 1) % n]!;
    const after = segments[(i + 1) % n]!;
    if (s.kind !== 'arc' || segmentLengthMm(s) >= HAIR_ARC_MM) continue;
    if (before.kind !== 'line' || after.kind !== 'line' || before === after) continue;
    const { x, y } = tangentAt(s, 0);
    const mm = s.radiusMm * Math.tan(Math.abs(s.sweepRad) / 2);
    const corner = { x: s.from.x + x * mm, y: s.from.y + y * mm };
    segments[(i + n - 1) % n] = line(before.from, corner);
    segments[(i + 1) % n] = line(corner, after.to);
    segments.splice(i, 1);
    i--;
  }
  return contour(segments, c.isClosed);
}

function surroundingsOf(lines: readonly Contour[]): Surroundings {
  const box = boxOfAll(lines);
  const dx = box.maxX - box.minX;
  const dy = box.maxY - box.minY;
  return surroundings(indexSegments(lines.flatMap((c) => c.segments)), 2 * Math.sqrt(dx * dx + dy * dy));
}

/** The box around all contours. */
export function boxOfAll(contours: readonly Contour[]): Box {
  const out = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };
  for (const c of contours) {
    const b = contourBox(c);
    out.minX = Math.min(out.minX, b.minX);
    out.minY = Math.min(out.minY, b.minY);
    out.maxX = Math.max(out.maxX, b.maxX);
    out.maxY = Math.max(out.maxY, b.maxY);
  }
  return out;
}
