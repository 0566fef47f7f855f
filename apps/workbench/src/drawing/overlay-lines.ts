import type { Point } from '@gapwright/geometry';
import { type LengthUnit, lengthText } from '../units/length.js';
import type { Measure } from './measure.js';
import type { Snap } from './snap.js';
import type { DrawingColours } from './types.js';
import { type PaneSize, toScreen, type View } from './view.js';

/** The wire at its place in the program. */
export interface WireSpot {
  readonly at: Point;
  readonly halfKerfMm: number;
  readonly line: number | null;
}

/** The kerf around the wire in true size, at least this big to be found, CSS pixels. */
const LEAST_WIRE_PX = 3;

export function drawWire(
  ink: CanvasRenderingContext2D,
  wire: WireSpot,
  view: View,
  size: PaneSize,
  c: DrawingColours,
): void {
  const p = toScreen(view, size, wire.at);
  const r = Math.max(LEAST_WIRE_PX, wire.halfKerfMm * view.pxPerMm);
  ink.fillStyle = c.paper;
  ink.strokeStyle = c.ink;
  ink.lineWidth = 2;
  ink.beginPath();
  ink.arc(p.x, p.y, r, 0, 2 * Math.PI);
  ink.fill();
  ink.stroke();
  if (wire.line === null) return;
  labelAt(ink, `line ${wire.line}`, p.x + r + 5, p.y - r - 9, size, c);
}

export function drawSnap(
  ink: CanvasRenderingContext2D,
  snap: Snap,
  view: View,
  size: PaneSize,
  c: DrawingColours,
): void {
  const p = toScreen(view, size, snap.at);
  ink.strokeStyle = c.ink;
  ink.lineWidth = 1.2;
  ink.beginPath();
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    ink.moveTo(p.x + dx * 4, p.y + dy * 4);
    ink.lineTo(p.x + dx * 12, p.y + dy * 12);
  }
  ink.stroke();
  if (snap.kind === 'free') return;
  ink.beginPath();
  ink.arc(p.x, p.y, 3.5, 0, 2 * Math.PI);
  ink.stroke();
}

/** The line between the two points, its legs along x and y, and the distance at its middle. */
export function drawMeasure(
  ink: CanvasRenderingContext2D,
  measure: Measure,
  moving: Snap | null,
  view: View,
  size: PaneSize,
  c: DrawingColours,
  units: LengthUnit,
): void {
  const first = measure.first;
  const second = measure.second ?? moving;
  if (first === null) return;
  const a = toScreen(view, size, first.at);
  ink.fillStyle = c.ink;
  ink.beginPath();
  ink.arc(a.x, a.y, 3, 0, 2 * Math.PI);
  ink.fill();
  if (second === null) return;
  const b = toScreen(view, size, second.at);
  ink.strokeStyle = c.ink;
  ink.lineWidth = 1.4;
  ink.beginPath();
  ink.moveTo(a.x, a.y);
  ink.lineTo(b.x, b.y);
  ink.stroke();
  ink.lineWidth = 0.7;
  ink.setLineDash([3, 3]);
  ink.beginPath();
  ink.moveTo(a.x, a.y);
  ink.lineTo(b.x, a.y);
  ink.lineTo(b.x, b.y);
  ink.stroke();
  ink.setLineDash([]);
  ink.beginPath();
  ink.arc(b.x, b.y, 3, 0, 2 * Math.PI);
  ink.fill();
  const dx = second.at.x - first.at.x;
  const dy = second.at.y - first.at.y;
  const text = lengthText(Math.sqrt(dx * dx + dy * dy), units);
  labelAt(ink, text, (a.x + b.x) / 2 + 6, (a.y + b.y) / 2 - 10, size, c);
}

function labelAt(
  ink: CanvasRenderingContext2D,
  text: string,
  x: number,
  y: number,
  size: PaneSize,
  c: DrawingColours,
): void {
  const width = ink.measureText(text).width + 6;
  const left = Math.round(Math.min(Math.max(2, x), size.width - width - 2));
  const middle = Math.round(Math.min(Math.max(9, y), size.height - 9));
  ink.fillStyle = c.paper;
  ink.fillRect(left, middle - 8, width, 16);
  ink.strokeStyle = c.rule;
  ink.lineWidth = 1;
  ink.strokeRect(left + 0.5, middle - 7.5, width - 1, 15);
  ink.fillStyle = c.ink;
  ink.fillText(text, left + 3, middle);
}
