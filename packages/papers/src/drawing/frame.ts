import { type Box, contourBox, type Point, segmentBox, unionBox } from '@gapwright/geometry';
import type { Drawing, DrawnKeepOut } from './drawing.js';

/** Room around the picture, mm on paper: dimension lines left and below, then a foot with scale bar and legend. */
const MARGIN = { left: 10, right: 2, top: 2, bottom: 9, foot: 8 } as const;

/** Round scales, times a power of ten: close enough together to use the room, short enough to say. */
const ROUND_SCALES = [1, 1.2, 1.5, 1.8, 2, 2.5, 3, 3.5, 4, 5, 6, 7, 8, 9] as const;

/** Smallest extent a drawing is given, mm: a single point must not be blown up without end. */
const LEAST_EXTENT_MM = 0.1;

/** Room on paper for a picture, mm. */
export interface PictureSize {
  readonly widthMm: number;
  readonly maxHeightMm: number;
  /** Without scale bar and legend. */
  readonly isPlain?: boolean;
  /** Without the names of features, for readers who have no use for them. */
  readonly isUnnamed?: boolean;
}

/** How drawing coordinates (mm, y up) land on paper (mm, y down). */
export interface Frame {
  /** Paper mm per drawing mm. */
  readonly scale: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly toPaper: (p: Point) => Point;
}

/** Lengths of a scale bar, times a power of ten. */
const ROUND_LENGTHS = [1, 2, 5] as const;

/** Relative slack, without unit: a power of ten and its reciprocal are not always exact. */
const ROUNDING = 1e-12;

/** The largest member of a series, times a power of ten, that is not above `limit`. */
function roundDown(limit: number, series: readonly number[]): number {
  const decade = 10 ** Math.floor(Math.log10(limit));
  const within = series.filter((s) => s * decade <= limit * (1 + ROUNDING));
  return (within[within.length - 1] ?? 1) * decade;
}

/** The smallest member of a series, times a power of ten, that is not below `limit`. */
function roundUp(limit: number, series: readonly number[]): number {
  const decade = 10 ** Math.floor(Math.log10(limit));
  return (series.find((s) => s * decade >= limit * (1 - ROUNDING)) ?? 10) * decade;
}

/** The largest scale not above `limit` that reads roundly: 2.5 : 1, or 1 : 4. */
export function roundScale(limit: number): number {
  return limit >= 1 ? roundDown(limit, ROUND_SCALES) : 1 / roundUp(1 / limit, ROUND_SCALES);
}

/** The longest round length not above `limit`. */
export function roundLength(limit: number): number {
  return roundDown(limit, ROUND_LENGTHS);
}

/** Box around everything the drawing shows, mm. */
export function drawingBox(drawing: Drawing): Box {
  const boxes: Box[] = drawing.contours.map((c) => contourBox(c.contour));
  boxes.push(...(drawing.references ?? []).map(contourBox));
  for (const pass of [...(drawing.passes ?? []), ...(drawing.leadIns ?? [])]) boxes.push(...pass.path.map(segmentBox));
  for (const hole of drawing.startHoles ?? []) {
    const r = hole.diameterMm / 2;
    boxes.push({ minX: hole.at.x - r, minY: hole.at.y - r, maxX: hole.at.x + r, maxY: hole.at.y + r });
  }
  boxes.push(...shownKeepOuts(drawing).map((k) => k.box));
  if (drawing.plate !== undefined) boxes.push(drawing.plate);
  if (drawing.datum !== undefined) {
    const { x, y } = drawing.datum;
    boxes.push({ minX: x, minY: y, maxX: x, maxY: y });
  }
  return boxes.length === 0 ? { minX: 0, minY: 0, maxX: 1, maxY: 1 } : boxes.reduce(unionBox);
}

/** Keep-outs are shown this far beyond the plate, mm: enough to see on which side they reach over it. */
const BEYOND_PLATE_MM = 3;

/** Keep-outs cut to the neighbourhood of the plate, so that wide clamps do not make the part small. */
export function shownKeepOuts(drawing: Drawing): readonly DrawnKeepOut[] {
  const { plate, keepOuts = [] } = drawing;
  if (plate === undefined) return keepOuts;
  const near = {
    minX: plate.minX - BEYOND_PLATE_MM,
    minY: plate.minY - BEYOND_PLATE_MM,
    maxX: plate.maxX + BEYOND_PLATE_MM,
    maxY: plate.maxY + BEYOND_PLATE_MM,
  };
  return keepOuts.flatMap((k) => {
    const box = {
      minX: Math.max(k.box.minX, near.minX),
      minY: Math.max(k.box.minY, near.minY),
      maxX: Math.min(k.box.maxX, near.maxX),
      maxY: Math.min(k.box.maxY, near.maxY),
    };
    return box.minX < box.maxX && box.minY < box.maxY ? [{ ...k, box }] : [];
  });
}

/** Fits the drawing into a width and at most a height on paper, at a round scale, centred in the width. */
export function fitFrame(drawing: Drawing, { widthMm, maxHeightMm, isPlain }: PictureSize): Frame {
  const foot = MARGIN.bottom + (isPlain === true ? 0 : MARGIN.foot);
  const box = drawingBox(drawing);
  const spanX = Math.max(box.maxX - box.minX, LEAST_EXTENT_MM);
  const spanY = Math.max(box.maxY - box.minY, LEAST_EXTENT_MM);
  const roomX = widthMm - MARGIN.left - MARGIN.right;
  const roomY = maxHeightMm - MARGIN.top - foot;
  const scale = roundScale(Math.min(roomX / spanX, roomY / spanY));
  const left = MARGIN.left + (roomX - spanX * scale) / 2;
  const bottom = MARGIN.top + spanY * scale;
  return {
    scale,
    widthMm,
    heightMm: bottom + foot,
    toPaper: (p) => ({ x: left + (p.x - box.minX) * scale, y: bottom - (p.y - box.minY) * scale }),
  };
}

/** `2.5 : 1` or `1 : 2`. */
export function scaleText(scale: number): string {
  const short = (n: number): string => String(Number(n.toPrecision(6)));
  return scale >= 1 ? `${short(scale)} : 1` : `1 : ${short(1 / scale)}`;
}
