import type { Scene } from '@gapwright/job';
import { layersToDraw, lineWeight } from './line-weights.js';
import { type PictureFrame, rasterOf } from './picture.js';
import { pathBoxes } from './segments.js';
import { type Raster, tracePath } from './trace-path.js';
import type { DrawingColours } from './types.js';

export type Ink = CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D;

/** Counts what a picture took. */
export interface Tally {
  drawCalls: number;
  penStrokes: number;
}

/** A scene with the boxes of its paths, worked out once. */
export interface BoxedScene {
  readonly scene: Scene;
  /** Per layer, four numbers per path. */
  readonly boxes: readonly Float64Array[];
}

export function boxScene(scene: Scene): BoxedScene {
  return { scene, boxes: scene.layers.map((layer) => pathBoxes(layer.paths)) };
}

/**
 * Pen strokes put on one canvas path before it is stroked. Software canvases slow down with the length of one path;
 * about a hundred pieces was quickest where it was measured.
 */
const BATCH_STROKES = 128;
/** Segments looked at between two chances to stop; some thousand take well under a millisecond. */
const SEGMENTS_PER_SLICE = 4096;
/** No line is wider than this at any emphasis, CSS pixels; what lies further outside cannot reach in. */
const WIDEST_PX = 16;

export function* paintLines(
  ink: Ink,
  boxed: BoxedScene,
  frame: PictureFrame,
  colours: DrawingColours,
  withPasses: boolean,
  operation: number | null,
  tally: Tally,
): Generator<void, void> {
  for (const index of layersToDraw(boxed.scene.layers, withPasses, operation)) {
    const layer = boxed.scene.layers[index]!;
    const weight = lineWeight(layer);
    setPen(ink, frame, colours[weight.colour], weight.widthPx, weight.dashPx);
    yield* strokePaths(ink, boxed, index, () => true, rasterOf(frame, WIDEST_PX * frame.devicePxPerPx), tally);
  }
}

export function setPen(
  ink: Ink,
  frame: PictureFrame,
  colour: string,
  widthPx: number,
  dashPx: readonly number[],
): void {
  ink.strokeStyle = colour;
  ink.lineWidth = widthPx * frame.devicePxPerPx;
  ink.setLineDash(dashPx.map((d) => d * frame.devicePxPerPx));
  ink.lineCap = dashPx.length > 0 ? 'butt' : 'round';
  ink.lineJoin = 'round';
}

/** Strokes the wanted paths of one layer, giving way now and then. */
export function* strokePaths(
  ink: Ink,
  boxed: BoxedScene,
  layerIndex: number,
  isWanted: (path: number) => boolean,
  raster: Raster,
  tally: Tally,
): Generator<void, void> {
  const { paths } = boxed.scene.layers[layerIndex]!;
  const boxes = boxed.boxes[layerIndex]!;
  const { originX, originY, pxPerMm, width, height, reachPx } = raster;
  let batched = 0;
  let looked = 0;
  ink.beginPath();
  for (let p = 0; p < paths.starts.length - 1; p++) {
    if (!isWanted(p)) continue;
    const isOutside =
      originX + boxes[p * 4 + 2]! * pxPerMm < -reachPx ||
      originX + boxes[p * 4]! * pxPerMm > width + reachPx ||
      originY - boxes[p * 4 + 1]! * pxPerMm < -reachPx ||
      originY - boxes[p * 4 + 3]! * pxPerMm > height + reachPx;
    if (isOutside) continue;
    const end = paths.starts[p + 1]!;
    for (let first = paths.starts[p]!; first < end; first += BATCH_STROKES) {
      const last = Math.min(end, first + BATCH_STROKES);
      const strokes = tracePath(ink, paths.values, first, last, raster);
      batched += strokes;
      tally.penStrokes += strokes;
      looked += last - first;
      if (batched >= BATCH_STROKES) {
        ink.stroke();
        tally.drawCalls++;
        ink.beginPath();
        batched = 0;
      }
      if (looked >= SEGMENTS_PER_SLICE) {
        looked = 0;
        yield;
      }
    }
  }
  if (batched > 0) {
    ink.stroke();
    tally.drawCalls++;
  }
  yield;
}
