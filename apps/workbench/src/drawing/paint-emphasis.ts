import type { SceneBand } from '@gapwright/job';
import { bandLine, limitLine, outwardNormals } from './band.js';
import { isLayerShown, lineWeight } from './line-weights.js';
import { type BoxedScene, type Ink, setPen, strokePaths, type Tally } from './paint-lines.js';
import { type PathPlace, type PictureContent, type PictureFrame, rasterOf } from './picture.js';
import type { DrawingColours } from './types.js';

type Emphasis = Extract<PictureContent, { kind: 'emphasis' }>;

/** Width of the soft strip under a picked or touched line, CSS pixels, and how strong it is. */
const STRIP_PX = 11;
const STRIP_ALPHA = 0.16;
/** A picked line is this much wider than it is otherwise. */
const CHOSEN_EXTRA_PX = 1.6;
const BAND_FILL_ALPHA = 0.3;

/** Picked and touched lines, and the error band. */
export function* paintEmphasis(
  ink: Ink,
  boxed: BoxedScene,
  frame: PictureFrame,
  colours: DrawingColours,
  content: Emphasis,
  tally: Tally,
): Generator<void, void> {
  const { layers, bands } = boxed.scene;
  if (content.band !== null) {
    for (const band of bands) {
      if (content.operation !== null && band.operation !== content.operation) continue;
      paintBand(ink, frame, colours, band, content.band.factor, content.band.toleranceMm, tally);
      yield;
    }
  }
  const raster = rasterOf(frame, STRIP_PX * frame.devicePxPerPx);
  for (const [index, layer] of layers.entries()) {
    if (!isLayerShown(layer, content.withPasses, content.operation)) continue;
    const { chosen, hovered } = content;
    const isHoveredHere = (place: PathPlace | null): place is PathPlace => place !== null && place.layer === index;
    const isChosen = (path: number): boolean => chosen !== null && layer.names[path] === chosen;
    if (layer.kind === 'part' || layer.kind === 'reference' || layer.kind === 'open end' || isHoveredHere(hovered)) {
      ink.globalAlpha = STRIP_ALPHA;
      setPen(ink, frame, colours.ink, STRIP_PX, []);
      const isStripped = (path: number): boolean =>
        (layer.kind !== 'pass' && layer.kind !== 'lead-in' && isChosen(path)) ||
        (isHoveredHere(hovered) && hovered.path === path);
      yield* strokePaths(ink, boxed, index, isStripped, raster, tally);
      ink.globalAlpha = 1;
    }
    if (chosen !== null) {
      const weight = lineWeight(layer);
      setPen(ink, frame, colours.ink, weight.widthPx + CHOSEN_EXTRA_PX, weight.dashPx);
      yield* strokePaths(ink, boxed, index, isChosen, raster, tally);
    }
  }
}

function paintBand(
  ink: Ink,
  frame: PictureFrame,
  colours: DrawingColours,
  band: SceneBand,
  factor: number,
  toleranceMm: number | null,
  tally: Tally,
): void {
  const n = band.samples.length / 3;
  if (n < 2) return;
  const { originX, originY, pxPerMm } = rasterOf(frame, 0);
  const normals = outwardNormals(band);
  const line = bandLine(band, normals, factor);
  const count = band.isClosed ? n + 1 : n;
  const px = (x: number): number => originX + x * pxPerMm;
  const py = (y: number): number => originY - y * pxPerMm;

  // The area between contour and band, in pieces of a few samples so that crossings do not cancel.
  for (const isRest of [true, false]) {
    ink.fillStyle = isRest ? colours.ink : colours.needs;
    ink.globalAlpha = BAND_FILL_ALPHA;
    ink.beginPath();
    for (let i = 0; i + 1 < count; i++) {
      const a = i % n;
      const b = (i + 1) % n;
      if (band.samples[a * 3 + 2]! + band.samples[b * 3 + 2]! > 0 !== isRest) continue;
      ink.moveTo(px(band.samples[a * 3]!), py(band.samples[a * 3 + 1]!));
      ink.lineTo(px(band.samples[b * 3]!), py(band.samples[b * 3 + 1]!));
      ink.lineTo(px(line[b * 2]!), py(line[b * 2 + 1]!));
      ink.lineTo(px(line[a * 2]!), py(line[a * 2 + 1]!));
      ink.closePath();
    }
    ink.fill('nonzero');
    tally.drawCalls++;
  }
  ink.globalAlpha = 1;

  const strokeLine = (points: Float64Array, leavesFolds: boolean): void => {
    ink.beginPath();
    for (let i = 0; i < count; i++) {
      const at = (i % n) * 2;
      const isFold = leavesFolds && i > 0 && runsBack(band.samples, points, (i - 1) % n, i % n);
      if (i === 0 || isFold) ink.moveTo(px(points[at]!), py(points[at + 1]!));
      else ink.lineTo(px(points[at]!), py(points[at + 1]!));
    }
    ink.stroke();
    tally.drawCalls++;
    tally.penStrokes += count;
  };
  setPen(ink, frame, colours.ink, 1, []);
  strokeLine(line, false);
  if (toleranceMm === null) return;
  setPen(ink, frame, colours.faint, 0.6, []);
  strokeLine(limitLine(band, normals, toleranceMm, factor), true);
  strokeLine(limitLine(band, normals, -toleranceMm, factor), true);
}

/** True where a magnified limit folds back on itself, in corners tighter than its distance: there it means nothing. */
function runsBack(samples: Float64Array, moved: Float64Array, a: number, b: number): boolean {
  const dx = samples[b * 3]! - samples[a * 3]!;
  const dy = samples[b * 3 + 1]! - samples[a * 3 + 1]!;
  return dx * (moved[b * 2]! - moved[a * 2]!) + dy * (moved[b * 2 + 1]! - moved[a * 2 + 1]!) <= 0;
}
