import { contourBox, type Point, pointAt, segmentLengthMm, unionBox } from '@gapwright/geometry';
import type { LengthText } from '../length-text.js';
import { boxDimensions } from './dimension.js';
import type { Drawing, DrawnContour, DrawnPass } from './drawing.js';
import { drawingBox, type Frame, fitFrame, type PictureSize, shownKeepOuts } from './frame.js';
import { ACCENT, INK, INK_PALE, INK_SOFT, TINT } from './ink.js';
import { LABEL, LabelPlacer, SMALL, svgText } from './label.js';
import { type LegendEntry, legend, lineEntry, scaleBar } from './legend.js';
import {
  datumMark,
  hatchedBox,
  paperRect,
  plateOutline,
  RING_MM,
  ring,
  type StrokeStyle,
  startHole,
  strokePath,
  tabMark,
  travelArrow,
} from './marks.js';
import { stretchBetween } from './stretch.js';
import { pathData, svgNumber } from './svg-path.js';

/** A picture and its size on paper, mm. */
export interface DrawingSvg {
  readonly svg: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

const ROUGH: StrokeStyle = { widthMm: 1.1, colour: INK_PALE };
const OUTLINE: StrokeStyle = { widthMm: 0.2, colour: INK };
const REFERENCE: StrokeStyle = { widthMm: 0.15, colour: INK_SOFT };
const LEAD_IN: StrokeStyle = { widthMm: 0.3, colour: INK_SOFT, dash: '1.2 0.6' };

/** Rough heaviest, each skim lighter in weight. */
function passStyle(pass: number): StrokeStyle {
  return pass <= 1 ? ROUGH : { widthMm: Math.max(0.12, 0.6 / pass), colour: INK_SOFT };
}

/** The picture of a set-up: exact arcs, paper mm, y up as on the drawing. */
export function drawingSvg(drawing: Drawing, text: LengthText, size: PictureSize): DrawingSvg {
  const frame = fitFrame(drawing, size);
  const placer = new LabelPlacer(frame.widthMm, frame.heightMm);
  const body = [...ground(drawing, frame), ...paths(drawing, frame), ...marks(drawing, frame)];
  const labels = labelsOf(drawing, frame, placer, size.isUnnamed === true ? [] : drawing.contours);
  const partBox = drawing.contours.map((c) => contourBox(c.contour));
  if (partBox.length > 0) body.push(boxDimensions(partBox.reduce(unionBox), drawingBox(drawing), frame, text));
  if (size.isPlain !== true) {
    const footY = frame.heightMm - 2;
    body.push(scaleBar({ x: 1, y: footY }, frame, text));
    body.push(legend(legendOf(drawing), { x: frame.widthMm - 1, y: footY }));
  }
  const w = svgNumber(frame.widthMm);
  const h = svgNumber(frame.heightMm);
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${w}mm" height="${h}mm" viewBox="0 0 ${w} ${h}">` +
    `${body.join('')}${labels.join('')}</svg>`;
  return { svg, widthMm: frame.widthMm, heightMm: frame.heightMm };
}

/** What lies under the wire: keep-outs, plate, the part's material. */
function ground(drawing: Drawing, frame: Frame): string[] {
  const out: string[] = [];
  const material = materialPath(drawing, frame);
  if (material !== '') out.push(`<path d="${material}" fill="${TINT}" fill-rule="evenodd"/>`);
  if (drawing.plate !== undefined) out.push(plateOutline(drawing.plate, frame));
  for (const keepOut of shownKeepOuts(drawing)) out.push(hatchedBox(keepOut.box, frame));
  return out;
}

/**
 * Everything that stays, as one even-odd path. Openings alone do not say where the material ends: then the plate
 * bounds it, and without a plate nothing is tinted.
 */
function materialPath(drawing: Drawing, frame: Frame): string {
  const references = drawing.references ?? [];
  const closed = drawing.contours.filter((c) => c.contour.isClosed);
  const lines = [...references, ...closed.map((c) => c.contour)].map((c) => pathData(c.segments, frame, true));
  if (references.length === 0 && closed.length > 0 && closed.every((c) => c.role === 'opening')) {
    if (drawing.plate === undefined) return '';
    const { x, y, width, height } = paperRect(drawing.plate, frame);
    lines.push(`M${svgNumber(x)} ${svgNumber(y)}h${svgNumber(width)}v${svgNumber(height)}h${svgNumber(-width)}Z`);
  }
  return lines.join(' ');
}

function paths(drawing: Drawing, frame: Frame): string[] {
  const roughFirst = [...(drawing.passes ?? [])].sort((a, b) => a.pass - b.pass);
  const out = roughFirst.map((p) => strokePath(pathData(p.path, frame), passStyle(p.pass)));
  for (const c of drawing.references ?? []) out.push(strokePath(pathData(c.segments, frame, true), REFERENCE));
  for (const c of drawing.contours)
    out.push(strokePath(pathData(c.contour.segments, frame, c.contour.isClosed), OUTLINE));
  for (const leadIn of drawing.leadIns ?? []) out.push(strokePath(pathData(leadIn.path, frame), LEAD_IN));
  return out;
}

function marks(drawing: Drawing, frame: Frame): string[] {
  const out: string[] = [];
  for (const tab of drawing.tabs ?? []) {
    const owner = drawing.contours.find((c) => c.feature === tab.feature);
    if (owner === undefined) continue;
    const stretch = stretchBetween(owner.contour, tab.from, tab.to);
    out.push(tabMark(stretch, pathData(stretch, frame), frame));
  }
  for (const rough of drawing.passes?.filter(isRough) ?? []) out.push(travelArrow(rough.path, frame));
  for (const hole of drawing.startHoles ?? []) out.push(startHole(hole.at, hole.diameterMm, hole.fromEdge, frame));
  if (drawing.datum !== undefined) out.push(datumMark(frame.toPaper(drawing.datum)));
  for (const place of drawing.places ?? []) out.push(ring(frame.toPaper(place.at)));
  return out;
}

const isRough = (p: DrawnPass): boolean => p.pass === 1;

function labelsOf(drawing: Drawing, frame: Frame, placer: LabelPlacer, named: readonly DrawnContour[]): string[] {
  const out: string[] = [];
  blockLines(drawing, frame, placer);
  for (const { at, label } of drawing.places ?? []) {
    const p = frame.toPaper(at);
    placer.block({ x: p.x - RING_MM, y: p.y - RING_MM, width: 2 * RING_MM, height: 2 * RING_MM });
    if (label === undefined) continue;
    out.push(placer.place(p, label, { ...LABEL, colour: ACCENT }, RING_MM + 0.3, 'always'));
  }
  for (const keepOut of shownKeepOuts(drawing)) {
    const area = paperRect(keepOut.box, frame);
    placer.block(area);
    out.push(placer.centre(area, `${keepOut.id} ${keepOut.label}`, SMALL));
  }
  for (const hole of drawing.startHoles ?? []) {
    const at = frame.toPaper(hole.at);
    const r = Math.max((hole.diameterMm / 2) * frame.scale, 0.7) + 0.9;
    placer.block({ x: at.x - r, y: at.y - r, width: 2 * r, height: 2 * r });
    out.push(placer.place(at, hole.fromEdge ? `${hole.id} edge` : hole.id, LABEL, r + 0.3));
  }
  for (const tab of drawing.tabs ?? []) {
    const at = frame.toPaper(tab.from);
    out.push(placer.place(at, `tab ${tab.feature}`, { ...SMALL, isBold: true, colour: ACCENT }, 2, 'always'));
  }
  for (const c of named) {
    if (isNamedByHole(c, drawing, frame)) continue;
    const middle = c.contour.segments[Math.floor(c.contour.segments.length / 2)];
    if (middle !== undefined) out.push(placer.place(frame.toPaper(pointAt(middle, 0.5)), c.feature, LABEL, 1.6));
  }
  if (drawing.datum !== undefined) {
    const at = frame.toPaper(drawing.datum);
    out.push(
      svgText({ x: at.x + 7.4, y: at.y + 0.8 }, 'X', SMALL),
      svgText({ x: at.x - 0.7, y: at.y - 7.4 }, 'Y', SMALL),
    );
  }
  return out;
}

/** Openings under this size on paper, mm, have no room for two labels. */
const SMALL_OPENING_MM = 10;

/** A small opening with its start hole inside: the table of start holes says which feature it is for. */
function isNamedByHole(c: DrawnContour, drawing: Drawing, frame: Frame): boolean {
  const box = contourBox(c.contour);
  const widest = Math.max(box.maxX - box.minX, box.maxY - box.minY);
  if (c.role !== 'opening' || widest * frame.scale >= SMALL_OPENING_MM) return false;
  const isInside = ({ x, y }: Point): boolean => x > box.minX && x < box.maxX && y > box.minY && y < box.maxY;
  return (drawing.startHoles ?? []).some((hole) => isInside(hole.at));
}

/** Distance of the samples along a line that labels should not cover, mm on paper. */
const SAMPLE_MM = 1;
/** Samples of one drawing; longer lines are sampled more coarsely, since every label looks at every sample. */
const MOST_SAMPLES = 3000;

/** Tells the placer where the lines are. */
function blockLines(drawing: Drawing, frame: Frame, placer: LabelPlacer): void {
  const paths = [...drawing.contours.map((c) => c.contour.segments), ...(drawing.leadIns ?? []).map((l) => l.path)];
  const segments = paths.flat();
  const total = segments.reduce((sum, s) => sum + segmentLengthMm(s), 0) * frame.scale;
  const step = Math.max(SAMPLE_MM, total / MOST_SAMPLES);
  for (const s of segments) {
    const count = Math.ceil((segmentLengthMm(s) * frame.scale) / step);
    for (let i = 0; i < count; i++) {
      const p = frame.toPaper(pointAt(s, (i + 0.5) / count));
      placer.block({ x: p.x - 0.3, y: p.y - 0.3, width: 0.6, height: 0.6 });
    }
  }
  if (drawing.datum !== undefined) {
    const at = frame.toPaper(drawing.datum);
    placer.block({ x: at.x - 1.2, y: at.y - 10, width: 2.4, height: 10 });
    placer.block({ x: at.x, y: at.y - 1.2, width: 10, height: 2.4 });
  }
}

function legendOf(drawing: Drawing): LegendEntry[] {
  const out: LegendEntry[] = [lineEntry('part', OUTLINE.widthMm, OUTLINE.colour)];
  const passes = [...new Set((drawing.passes ?? []).map((p) => p.pass))].sort((a, b) => a - b);
  const last = passes[passes.length - 1];
  if (passes[0] === 1) out.push(lineEntry('pass 1', ROUGH.widthMm, ROUGH.colour));
  if (last !== undefined && last > 1) {
    const style = passStyle(2);
    out.push(lineEntry(last === 2 ? 'pass 2' : `passes 2–${last}`, style.widthMm, style.colour));
  }
  if ((drawing.leadIns?.length ?? 0) > 0) out.push(lineEntry('lead-in', LEAD_IN.widthMm, LEAD_IN.colour, LEAD_IN.dash));
  if ((drawing.tabs?.length ?? 0) > 0) out.push(lineEntry('tab', 1.1, ACCENT));
  if (drawing.plate !== undefined) out.push(lineEntry('plate', 0.25, INK_SOFT, '3 1'));
  return out;
}
