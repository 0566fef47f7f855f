import type { Box } from '@gapwright/geometry';
import type { Scene, SceneWalk } from '@gapwright/job';
import type { Ink, Tally } from './paint-lines.js';
import { isSameFrame, type PictureFrame, rasterOf } from './picture.js';
import { STRIDE } from './segments.js';
import { tracePath } from './trace-path.js';
import type { DrawingColours } from './types.js';
import { partOfMove, placeAt } from './walk.js';

export type Sheet = OffscreenCanvas | HTMLCanvasElement;

/** The kerf has its true width; only where that is thinner than this is it widened so that it can be seen, device pixels. */
const THINNEST_KERF_PX = 0.8;
/** Walls of the kerf are drawn this wide, CSS pixels. */
const WALL_PX = 1;
const BATCH_STROKES = 128;
/** How strongly the stock is shaded. */
const STOCK_ALPHA = 0.13;

/**
 * Stock with the kerf cut out of it, up to a moment. Keeps what it has eroded: going on draws only the new moves;
 * going back, another view or another program start again.
 */
export class ErosionPainter {
  private stock: Sheet | null = null;
  private frame: PictureFrame | null = null;
  private walk: SceneWalk | null = null;
  private colours: DrawingColours | null = null;
  private doneMoves = 0;
  private doneShare = 0;

  constructor(private readonly makeSheet: (width: number, height: number) => Sheet) {}

  *paint(
    ink: Ink,
    scene: Scene,
    frame: PictureFrame,
    colours: DrawingColours,
    operation: number,
    atMin: number,
    tally: Tally,
  ): Generator<void, void> {
    const walk = scene.walks.find((w) => w.operation === operation) ?? null;
    if (walk === null) return;
    const place = placeAt(walk, atMin);
    const isBack = place.move < this.doneMoves || (place.move === this.doneMoves && place.share < this.doneShare);
    const isOther =
      this.frame === null || this.walk !== walk || !isSameFrame(this.frame, frame) || this.colours?.ink !== colours.ink;
    if (isBack || isOther) this.begin(scene, walk, frame, colours);
    yield* this.erodeTo(walk, frame, place.move, place.share, tally);
    ink.globalCompositeOperation = 'copy';
    ink.drawImage(this.stock!, 0, 0);
    ink.globalCompositeOperation = 'source-over';
    tally.drawCalls++;
  }

  private begin(scene: Scene, walk: SceneWalk, frame: PictureFrame, colours: DrawingColours): void {
    if (this.stock?.width !== frame.width || this.stock.height !== frame.height) {
      this.stock = this.makeSheet(frame.width, frame.height);
    }
    this.frame = frame;
    this.walk = walk;
    this.colours = colours;
    this.doneMoves = 0;
    this.doneShare = 0;
    const ink = inkOf(this.stock);
    ink.globalCompositeOperation = 'source-over';
    ink.clearRect(0, 0, frame.width, frame.height);
    const { originX, originY, pxPerMm } = rasterOf(frame, 0);
    const box = stockBox(scene);
    // Solid, paper under a tint: walls drawn on top of it later take over its strength.
    for (const [colour, alpha] of [
      [colours.paper, 1],
      [colours.ink, STOCK_ALPHA],
    ] as const) {
      ink.globalAlpha = alpha;
      ink.fillStyle = colour;
      ink.fillRect(
        originX + box.minX * pxPerMm,
        originY - box.maxY * pxPerMm,
        (box.maxX - box.minX) * pxPerMm,
        (box.maxY - box.minY) * pxPerMm,
      );
    }
    ink.globalAlpha = 1;
  }

  private *erodeTo(
    walk: SceneWalk,
    frame: PictureFrame,
    move: number,
    share: number,
    tally: Tally,
  ): Generator<void, void> {
    // The rest of a move that was only partly done.
    if (this.doneShare > 0) {
      const end = this.doneMoves < move ? 1 : share;
      this.strokePart(walk, frame, this.doneMoves, this.doneShare, end, tally);
      if (this.doneMoves === move) {
        this.doneShare = share;
        return;
      }
      this.doneMoves++;
      this.doneShare = 0;
    }
    while (this.doneMoves < move) {
      const first = this.doneMoves;
      const halfKerfMm = walk.halfKerfMm[first]!;
      let last = first;
      while (
        last < move &&
        last - first < BATCH_STROKES &&
        walk.halfKerfMm[last] === halfKerfMm &&
        walk.cuts[last] === walk.cuts[first]
      ) {
        last++;
      }
      if (walk.cuts[first] === 1) {
        const from = walk.paths.starts[first]!;
        this.stroke(walk.paths.values, from, walk.paths.starts[last]!, halfKerfMm, frame, tally);
      }
      this.doneMoves = last;
      yield;
    }
    if (share > 0) {
      this.strokePart(walk, frame, move, 0, share, tally);
      this.doneShare = share;
    }
  }

  private strokePart(walk: SceneWalk, frame: PictureFrame, move: number, from: number, to: number, tally: Tally): void {
    if (walk.cuts[move] !== 1) return;
    const part = partOfMove(walk.paths, move, from, to);
    this.stroke(part, 0, part.length / STRIDE, walk.halfKerfMm[move]!, frame, tally);
  }

  private stroke(
    values: Float64Array,
    first: number,
    last: number,
    halfKerfMm: number,
    frame: PictureFrame,
    tally: Tally,
  ): void {
    if (last <= first) return;
    const kerfPx = Math.max(THINNEST_KERF_PX, 2 * halfKerfMm * frame.view.pxPerMm * frame.devicePxPerPx);
    const raster = rasterOf(frame, kerfPx);
    const ink = inkOf(this.stock!);
    ink.lineCap = 'round';
    ink.lineJoin = 'round';
    ink.strokeStyle = this.colours!.faint;
    ink.beginPath();
    tally.penStrokes += tracePath(ink, values, first, last, raster);
    // Walls only where stock still is, so that they never close a kerf that is already open; then the kerf takes it away.
    ink.globalCompositeOperation = 'source-atop';
    ink.lineWidth = kerfPx + 2 * WALL_PX * frame.devicePxPerPx;
    ink.stroke();
    ink.globalCompositeOperation = 'destination-out';
    ink.lineWidth = kerfPx;
    ink.stroke();
    tally.drawCalls += 2;
  }
}

/** The plate, or where no plate is known the drawing with a tenth of its size around it. */
function stockBox(scene: Scene): Box {
  const plate = scene.marks.find((m) => m.kind === 'plate');
  if (plate !== undefined) return plate.box;
  const { minX, minY, maxX, maxY } = scene.boxMm;
  const around = 0.1 * Math.max(maxX - minX, maxY - minY);
  return { minX: minX - around, minY: minY - around, maxX: maxX + around, maxY: maxY + around };
}

export function inkOf(sheet: Sheet): Ink {
  const ink = sheet.getContext('2d') as Ink | null;
  if (ink === null) throw new Error('This browser gives no 2D drawing surface.');
  return ink;
}
