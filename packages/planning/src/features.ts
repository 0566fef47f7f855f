import { type Problem, problem } from '@gapwright/base';
import {
  areaMm2,
  type Box,
  type Contour,
  contourBox,
  distanceMm,
  lengthMm,
  nestContours,
  orient,
  type Region,
  reverseContour,
  segmentLengthMm,
  wireAccess,
} from '@gapwright/geometry';
import { openContourProblem } from './open-contours.js';
import type { WireFeature, WireRequest } from './plan.js';

/** A contour as it comes from the drawing. */
export interface DrawnContour {
  readonly contour: Contour;
  readonly layer?: string;
}

/** A feature with its place in the nesting of the drawing. */
export interface NestedFeature {
  readonly feature: WireFeature;
  readonly depth: number;
  /** Id of the nearest closed contour around it that is cut as well; null when there is none, and for open cuts. */
  readonly within: string | null;
  /** Area without the contours directly inside it, mm². */
  readonly pieceAreaMm2: number;
}

export interface FoundFeatures {
  /** What is to be cut, in reading order. */
  readonly cut: readonly NestedFeature[];
  /** All closed and open lines of the drawing, cut or not: nothing may be burned that touches them. */
  readonly lines: readonly Contour[];
  /** Box around outermost contours that are not cut (a finished blank); null when there are none. */
  readonly blank: Box | null;
  readonly problems: readonly Problem[];
}

/** Slots are at least this many times longer than wide. */
const SLOT_ASPECT = 1.5;
/** Two radii or centres this near are the same, mm: rounding of drawings. */
const SAME_MM = 1e-4;

interface Placed {
  readonly drawn: DrawnContour;
  readonly role: 'outline' | 'opening' | 'open';
  readonly depth: number;
  /** Index of the outline around it in the list of placed contours, or -1. */
  readonly outline: number;
  /** Index of the nearest contour around it that is cut, or -1. */
  readonly within: number;
  readonly pieceAreaMm2: number;
}

/** Nests the drawn contours into parts and openings and measures each. Contours of layers not to be cut only bound. */
export function findFeatures(drawn: readonly DrawnContour[], request: WireRequest): FoundFeatures {
  const closed = drawn.filter((d) => d.contour.isClosed);
  const open = drawn.filter((d) => !d.contour.isClosed && d.contour.segments.length > 0);
  const nesting = nestContours(closed.map((d) => d.contour));
  const problems: Problem[] = [...nesting.problems];
  const isCut = (d: DrawnContour): boolean =>
    request.cutLayers === undefined || (d.layer !== undefined && request.cutLayers.includes(d.layer));

  const placed: Placed[] = [];
  let blank: Box | null = null;
  const visit = (region: Region, outline: number, within: number): void => {
    const d = closed[region.outer]!;
    let pieceAreaMm2 = Math.abs(areaMm2(d.contour));
    for (const hole of region.holes) pieceAreaMm2 -= Math.abs(areaMm2(closed[hole.outer]!.contour));
    let next = outline;
    let inner = within;
    if (isCut(d)) {
      inner = placed.length;
      if (!region.isOpening) next = placed.length;
      const role = region.isOpening ? 'opening' : 'outline';
      const part = region.isOpening ? outline : -1;
      placed.push({ drawn: d, role, depth: region.depth, outline: part, within, pieceAreaMm2 });
    } else {
      next = -1;
      if (region.depth === 0) blank = around(blank, contourBox(d.contour));
    }
    for (const hole of inReadingOrder(region.holes, closed)) visit(hole, next, inner);
  };
  for (const region of inReadingOrder(nesting.regions, closed)) visit(region, -1, -1);
  const openCuts = open.filter(isCut);
  if (request.openPartSide === undefined) {
    const unclosed = openContourProblem(openCuts.map((d) => d.contour));
    if (unclosed !== null) problems.unshift(unclosed);
  }
  for (const d of openCuts) {
    placed.push({ drawn: d, role: 'open', depth: 0, outline: -1, within: -1, pieceAreaMm2: 0 });
  }

  const cut = placed.map((p, i) => nestedFeature(p, i, request));
  if (cut.length === 0) problems.push(nothingToCut(request));
  return { cut, lines: drawn.map((d) => d.contour), blank, problems };
}

function nestedFeature(p: Placed, index: number, request: WireRequest): NestedFeature {
  const contour = turned(p, request.openPartSide ?? 'left');
  const access = wireAccess(contour, 'right');
  const feature: WireFeature = Object.freeze({
    id: `F${index + 1}`,
    kind: p.role === 'opening' ? kindOfOpening(contour) : 'profile',
    role: p.role,
    ...(p.role === 'open' ? { partSide: 'left' as const } : {}),
    ...(p.drawn.layer === undefined ? {} : { layer: p.drawn.layer }),
    contour,
    lengthMm: lengthMm(contour),
    areaMm2: Math.abs(areaMm2(contour)),
    minInsideRadiusMm: access.minInsideRadiusMm,
    minInsideRadiusAt: access.minInsideRadiusAt,
    sharpInsideCorners: access.sharpInsideCorners,
    narrowestMm: access.narrowestMm,
    narrowestAt: access.narrowestAt,
    partOf: p.outline >= 0 ? `F${p.outline + 1}` : null,
  });
  return { feature, depth: p.depth, within: p.within >= 0 ? `F${p.within + 1}` : null, pieceAreaMm2: p.pieceAreaMm2 };
}

/** Turns a contour so that the part is left of travel. */
function turned(p: Placed, openPartSide: 'left' | 'right'): Contour {
  if (p.role === 'outline') return orient(p.drawn.contour, true);
  if (p.role === 'opening') return orient(p.drawn.contour, false);
  return openPartSide === 'left' ? p.drawn.contour : reverseContour(p.drawn.contour);
}

/** A full circle is a hole; two straight sides with round or square ends are a slot; anything else is a profile. */
function kindOfOpening(c: Contour): 'hole' | 'slot' | 'profile' {
  const first = c.segments[0]!;
  if (first.kind === 'arc' && c.segments.every((s) => s.kind === 'arc' && isSameCircle(s, first))) return 'hole';
  const lines = c.segments.filter((s) => s.kind === 'line').map(segmentLengthMm);
  const arcs = c.segments.filter((s) => s.kind === 'arc');
  const box = contourBox(c);
  const isRound = lines.length === 2 && arcs.length >= 2 && arcs.every((a) => a.sweepRad < 0);
  if (isRound && Math.abs(lines[0]! - lines[1]!) < SAME_MM) return 'slot';
  const isSquare = lines.length === 4 && arcs.every((a) => a.sweepRad < 0) && isBoxLike(c, box);
  if (!isSquare) return 'profile';
  const sides = [...lines].sort((a, b) => b - a);
  const long = Math.max(box.maxX - box.minX, sides[0]!);
  const short = Math.max(SAME_MM, sides[2]!);
  return long / short >= SLOT_ASPECT ? 'slot' : 'profile';
}

function isSameCircle(a: { centre: { x: number; y: number }; radiusMm: number }, b: typeof a): boolean {
  return distanceMm(a.centre, b.centre) < SAME_MM && Math.abs(a.radiusMm - b.radiusMm) < SAME_MM;
}

/** True when the contour nearly fills its box, as an upright rectangle with small corner radii does. */
function isBoxLike(c: Contour, box: Box): boolean {
  const boxArea = (box.maxX - box.minX) * (box.maxY - box.minY);
  const corners = c.segments.reduce((sum, s) => sum + (s.kind === 'arc' ? s.radiusMm * s.radiusMm : 0), 0);
  return boxArea - Math.abs(areaMm2(c)) <= corners + SAME_MM;
}

function around(a: Box | null, b: Box): Box {
  if (a === null) return b;
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}

/** Top row first, left to right: by the upper left corner of the box. */
function inReadingOrder(regions: readonly Region[], closed: readonly DrawnContour[]): Region[] {
  const boxes = new Map(regions.map((r) => [r, contourBox(closed[r.outer]!.contour)]));
  return [...regions].sort((a, b) => {
    const p = boxes.get(a)!;
    const q = boxes.get(b)!;
    return q.maxY - p.maxY || p.minX - q.minX || a.outer - b.outer;
  });
}

function nothingToCut(request: WireRequest): Problem {
  const layers = request.cutLayers;
  return problem({
    code: 'PLAN-NOTHING-TO-CUT',
    severity: 'stop',
    what:
      layers === undefined ? 'The drawing holds no contour' : `The drawing holds no contour on ${layers.join(', ')}`,
    fix:
      layers === undefined
        ? 'Give a drawing with at least one contour'
        : 'Name the layers that hold the contours to be cut',
    ...(layers === undefined ? {} : { at: { field: 'cutLayers' } }),
  });
}
