import type { Box, Point } from '@gapwright/geometry';
import type { SceneMark } from '@gapwright/job';
import type { DrawingColours } from './types.js';
import { type PaneSize, toScreen, type View } from './view.js';

/** A start hole is drawn in its true size, but never smaller than this, CSS pixels. */
const LEAST_HOLE_PX = 4;
/** Distance of hatch lines, and the width of the strip that is hatched inside a plate's edge, CSS pixels. */
const HATCH_PX = 7;
const PLATE_STRIP_PX = 7;
const PROBLEM_PX = 7;

/** Room a mark's symbol takes around its point, CSS pixels. */
export function symbolRadiusPx(mark: SceneMark, view: View): number {
  switch (mark.kind) {
    case 'start hole':
      return Math.max(LEAST_HOLE_PX, (mark.diameterMm / 2) * view.pxPerMm) + 3;
    case 'datum':
      return 8;
    case 'problem':
      return PROBLEM_PX + 1;
    case 'tab':
      return 6;
    default:
      return 1;
  }
}

/** Draws one mark without its label. */
export function drawSymbol(
  ink: CanvasRenderingContext2D,
  mark: SceneMark,
  view: View,
  size: PaneSize,
  colours: DrawingColours,
  isStrong: boolean,
): void {
  ink.strokeStyle = colours.ink;
  ink.fillStyle = colours.ink;
  ink.lineWidth = isStrong ? 2.5 : 1;
  switch (mark.kind) {
    case 'plate':
    case 'keep-out':
      drawBox(ink, mark, view, size, colours, isStrong);
      return;
    case 'start hole': {
      const p = toScreen(view, size, mark.at);
      const r = Math.max(LEAST_HOLE_PX, (mark.diameterMm / 2) * view.pxPerMm);
      ink.beginPath();
      if (mark.fromEdge) ink.rect(p.x - r, p.y - r, 2 * r, 2 * r);
      else ink.arc(p.x, p.y, r, 0, 2 * Math.PI);
      // The centre lines of a hole on a drawing reach a little beyond it.
      for (const [dx, dy] of [
        [r + 3, 0],
        [0, r + 3],
      ] as const) {
        ink.moveTo(p.x - dx, p.y - dy);
        ink.lineTo(p.x + dx, p.y + dy);
      }
      ink.stroke();
      return;
    }
    case 'tab': {
      const a = toScreen(view, size, mark.from);
      const b = toScreen(view, size, mark.to);
      ink.lineWidth = isStrong ? 8 : 6;
      ink.lineCap = 'butt';
      ink.beginPath();
      ink.moveTo(a.x, a.y);
      ink.lineTo(b.x, b.y);
      ink.stroke();
      ink.lineWidth = 2.5;
      ink.strokeStyle = colours.paper;
      ink.stroke();
      return;
    }
    case 'datum': {
      // The filled triangle of ISO 5459.
      const p = toScreen(view, size, mark.at);
      ink.beginPath();
      ink.moveTo(p.x, p.y);
      ink.lineTo(p.x - 6, p.y + 10);
      ink.lineTo(p.x + 6, p.y + 10);
      ink.closePath();
      ink.fill();
      return;
    }
    case 'problem':
      drawProblem(ink, toScreen(view, size, mark.at), mark.severity, colours, isStrong);
      return;
    case 'feature':
      return;
  }
}

function drawProblem(
  ink: CanvasRenderingContext2D,
  p: Point,
  severity: 'stop' | 'warn' | 'info',
  colours: DrawingColours,
  isStrong: boolean,
): void {
  const r = isStrong ? PROBLEM_PX + 2 : PROBLEM_PX;
  ink.strokeStyle = severity === 'info' ? colours.faint : colours.needs;
  ink.fillStyle = severity === 'stop' ? colours.needs : colours.paper;
  ink.lineWidth = 1.6;
  ink.beginPath();
  if (severity === 'info') {
    ink.arc(p.x, p.y, r - 2, 0, 2 * Math.PI);
  } else {
    ink.moveTo(p.x, p.y - r);
    ink.lineTo(p.x + r, p.y);
    ink.lineTo(p.x, p.y + r);
    ink.lineTo(p.x - r, p.y);
    ink.closePath();
  }
  ink.fill();
  ink.stroke();
  ink.strokeStyle = severity === 'stop' ? colours.paper : ink.strokeStyle;
  ink.beginPath();
  ink.moveTo(p.x, p.y - 3.5);
  ink.lineTo(p.x, p.y + 0.5);
  ink.moveTo(p.x, p.y + 2.5);
  ink.lineTo(p.x, p.y + 3.5);
  ink.stroke();
}

function drawBox(
  ink: CanvasRenderingContext2D,
  mark: Extract<SceneMark, { kind: 'plate' | 'keep-out' }>,
  view: View,
  size: PaneSize,
  colours: DrawingColours,
  isStrong: boolean,
): void {
  const box = screenBox(mark.box, view, size);
  // Only what is on the screen: hatch lines far outside would cost as much as those inside.
  const seen = {
    minX: Math.max(box.minX, -PLATE_STRIP_PX - 2),
    minY: Math.max(box.minY, -PLATE_STRIP_PX - 2),
    maxX: Math.min(box.maxX, size.width + PLATE_STRIP_PX + 2),
    maxY: Math.min(box.maxY, size.height + PLATE_STRIP_PX + 2),
  };
  if (seen.maxX <= seen.minX || seen.maxY <= seen.minY) return;
  const origin = toScreen(view, size, { x: 0, y: 0 });
  ink.save();
  ink.beginPath();
  ink.rect(seen.minX, seen.minY, seen.maxX - seen.minX, seen.maxY - seen.minY);
  if (mark.kind === 'plate') {
    const inner = PLATE_STRIP_PX;
    const width = box.maxX - box.minX - 2 * inner;
    const height = box.maxY - box.minY - 2 * inner;
    if (width > 0 && height > 0) ink.rect(box.minX + inner, box.minY + inner, width, height);
  }
  ink.clip('evenodd');
  ink.strokeStyle = colours.ruleStrong;
  ink.lineWidth = mark.kind === 'plate' ? 0.7 : 1;
  ink.beginPath();
  // Lines x + y = constant, tied to the plane so that they travel with it.
  const phase = (((origin.x + origin.y) % HATCH_PX) + HATCH_PX) % HATCH_PX;
  const first = Math.floor((seen.minX + seen.minY - phase) / HATCH_PX);
  const last = Math.ceil((seen.maxX + seen.maxY - phase) / HATCH_PX);
  for (let k = first; k <= last; k++) {
    const sum = k * HATCH_PX + phase;
    ink.moveTo(sum - seen.minY, seen.minY);
    ink.lineTo(sum - seen.maxY, seen.maxY);
  }
  ink.stroke();
  ink.restore();
  ink.strokeStyle = mark.kind === 'plate' ? colours.ruleStrong : colours.ink;
  ink.lineWidth = isStrong ? 2.5 : 1;
  ink.strokeRect(box.minX, box.minY, box.maxX - box.minX, box.maxY - box.minY);
}

function screenBox(box: Box, view: View, size: PaneSize): Box {
  const a = toScreen(view, size, { x: box.minX, y: box.maxY });
  const b = toScreen(view, size, { x: box.maxX, y: box.minY });
  return { minX: a.x, minY: a.y, maxX: b.x, maxY: b.y };
}
