import type { Point } from '@gapwright/geometry';
import type { Scene, SceneMark } from '@gapwright/job';
import type { LengthUnit } from '../units/length.js';
import type { WorstPoint } from './band.js';
import { CROWD_HEIGHT_PX, CROWD_WIDTH_PX, type LabelWish, type Placement, placeLabels, type Rect } from './labels.js';
import { isMarkSelected, markPoint, markRank, markText } from './marks.js';
import { deviationText, type Measure } from './measure.js';
import { drawMeasure, drawSnap, drawWire, type WireSpot } from './overlay-lines.js';
import type { Snap } from './snap.js';
import { drawSymbol, symbolRadiusPx } from './symbols.js';
import type { DrawingColours, DrawingSelection } from './types.js';
import { type PaneSize, toScreen, type View } from './view.js';

/** Everything on the upper layer. */
export interface OverlayModel {
  readonly scene: Scene | null;
  readonly selection: DrawingSelection | null;
  readonly withMarks: boolean;
  readonly operation: number | null;
  readonly units: LengthUnit;
  readonly worst: readonly WorstPoint[];
  readonly bandFactor: number;
  readonly measure: Measure;
  readonly snap: Snap | null;
  readonly wire: WireSpot | null;
}

/** What is picked keeps its name whatever else is near. */
const SELECTED_RANK = 20;
/** Text size, CSS pixels, and the room around a label's text. */
const TEXT_PX = 12;
const PAD_PX = 3;
const LABEL_HEIGHT_PX = TEXT_PX + 2 * PAD_PX - 1;
/** Names of features stand closely only while they are few; more than this many keep wide room around each other. */
const MANY_NAMES = 60;
const FEW_APART_PX = 3;
const MANY_APART_PX = 56;
/** A symbol keeps other labels off a little less than its own, or its own would be off limits too. */
const OWN_ROOM_PX = 2;
/** Labels are given places this far outside the pane too, as a share of it, so that a drag does not bring unplaced ones in. */
const AROUND = 0.75;

interface Layout {
  readonly view: View;
  readonly size: PaneSize;
  readonly placement: Placement;
  readonly key: object;
}

/** Marks, names, callouts, measure and wire: redrawn every frame, always sharp. */
export class Overlay {
  private readonly ink: CanvasRenderingContext2D;
  private layout: Layout | null = null;
  private readonly widths = new Map<string, number>();
  private font = '';

  constructor(private readonly canvas: HTMLCanvasElement) {
    const ink = canvas.getContext('2d');
    if (ink === null) throw new Error('This browser gives no 2D drawing surface.');
    this.ink = ink;
  }

  resize(size: PaneSize, devicePxPerPx: number): void {
    this.canvas.width = Math.max(1, Math.round(size.width * devicePxPerPx));
    this.canvas.height = Math.max(1, Math.round(size.height * devicePxPerPx));
    this.layout = null;
  }

  /** Family of the page's text, once it is known or has changed. */
  setFace(face: string): void {
    this.font = `${TEXT_PX}px ${face}`;
    this.widths.clear();
    this.layout = null;
  }

  /** Paints everything and returns how many names found no room. `key` changes whenever labels may. */
  paint(
    model: OverlayModel,
    key: object,
    view: View,
    size: PaneSize,
    devicePxPerPx: number,
    c: DrawingColours,
  ): number {
    const { ink } = this;
    ink.setTransform(devicePxPerPx, 0, 0, devicePxPerPx, 0, 0);
    ink.clearRect(0, 0, size.width, size.height);
    ink.font = this.font;
    ink.textBaseline = 'middle';
    const marks = this.shownMarks(model);
    for (const mark of marks) {
      if (isOffScreen(mark, view, size)) continue;
      drawSymbol(ink, mark, view, size, c, isMarkSelected(mark, model.selection));
    }
    for (const worst of model.worst) this.drawLeader(worst, model, view, size, c);
    const layout = this.layoutFor(model, marks, key, view, size);
    const moved = toScreen(view, size, layout.view);
    const dx = moved.x - size.width / 2;
    const dy = moved.y - size.height / 2;
    this.drawLabels(layout.placement, dx, dy, size, model, c, devicePxPerPx);
    if (model.wire !== null) drawWire(ink, model.wire, view, size, c);
    drawMeasure(ink, model.measure, model.snap, view, size, c, model.units);
    if (model.snap !== null) drawSnap(ink, model.snap, view, size, c);
    return layout.placement.dropped;
  }

  /** The mark whose symbol or label is under a screen point. */
  markAt(model: OverlayModel, screen: Point, reachPx: number, view: View, size: PaneSize): SceneMark | null {
    const marks = this.shownMarks(model);
    let best: SceneMark | null = null;
    let bestPx = reachPx;
    for (const mark of marks) {
      if (mark.kind === 'plate' || mark.kind === 'keep-out' || mark.kind === 'feature') continue;
      const p = toScreen(view, size, markPoint(mark));
      const away = Math.sqrt((p.x - screen.x) ** 2 + (p.y - screen.y) ** 2);
      const px = Math.max(0, away - Math.min(12, symbolRadiusPx(mark, view)));
      if (px < bestPx || (px === bestPx && px < reachPx && mark.kind === 'problem')) {
        bestPx = px;
        best = mark;
      }
    }
    if (best !== null || this.layout === null) return best;
    const moved = toScreen(view, size, this.layout.view);
    const x = screen.x - moved.x + size.width / 2;
    const y = screen.y - moved.y + size.height / 2;
    for (const { wish, left, top } of this.layout.placement.placed) {
      const isIn = x >= left && x <= left + wish.widthPx && y >= top && y <= top + wish.heightPx;
      if (isIn && wish.key.startsWith('mark:')) return marks[Number(wish.key.slice(5))] ?? null;
    }
    return null;
  }

  private shownMarks(model: OverlayModel): readonly SceneMark[] {
    if (model.scene === null) return [];
    // Problems are never hidden with the names: they need somebody.
    return model.withMarks ? model.scene.marks : model.scene.marks.filter((m) => m.kind === 'problem');
  }

  private layoutFor(model: OverlayModel, marks: readonly SceneMark[], key: object, view: View, size: PaneSize): Layout {
    const old = this.layout;
    if (
      old !== null &&
      old.key === key &&
      old.view.pxPerMm === view.pxPerMm &&
      old.size === size &&
      Math.abs(old.view.x - view.x) * view.pxPerMm < size.width * AROUND * 0.6 &&
      Math.abs(old.view.y - view.y) * view.pxPerMm < size.height * AROUND * 0.6
    ) {
      return old;
    }
    const wishes: LabelWish[] = [];
    const obstacles: Rect[] = [];
    const isCrowded = marks.length > MANY_NAMES;
    marks.forEach((mark, index) => {
      const p = toScreen(view, size, markPoint(mark));
      const radius = symbolRadiusPx(mark, view) - OWN_ROOM_PX;
      if (radius > 0)
        obstacles.push({ left: p.x - radius, top: p.y - radius, right: p.x + radius, bottom: p.y + radius });
      // The plate's name stands above its upper edge.
      const at = mark.kind === 'plate' ? { x: p.x, y: p.y - LABEL_HEIGHT_PX / 2 } : p;
      this.wish(wishes, `mark:${index}`, markText(mark, model.units), at, symbolRadiusPx(mark, view), size, {
        rank: isMarkSelected(mark, model.selection) ? SELECTED_RANK : markRank(mark),
        apartPx: isCrowded && mark.kind === 'feature' ? MANY_APART_PX : FEW_APART_PX,
        places: mark.kind === 'keep-out' ? 'on' : isCrowded && mark.kind === 'feature' ? 'beside' : 'around',
      });
    });
    model.worst.forEach((worst, index) => {
      const tip = this.leaderTip(worst, model, view, size);
      const word = worst.deviationMm > 0 ? 'left on' : 'cut into';
      const text = `${deviationText(worst.deviationMm, model.units)} ${word}`;
      this.wish(wishes, `worst:${index}`, text, tip, 2, size, {
        rank: 10,
        apartPx: FEW_APART_PX,
        places: 'around',
      });
    });
    this.layout = { view, size, key, placement: placeLabels(wishes, obstacles) };
    return this.layout;
  }

  private wish(
    wishes: LabelWish[],
    key: string,
    text: string,
    at: Point,
    clearPx: number,
    size: PaneSize,
    rest: Pick<LabelWish, 'rank' | 'apartPx' | 'places'>,
  ): void {
    const isFar =
      at.x < -size.width * AROUND ||
      at.y < -size.height * AROUND ||
      at.x > size.width * (1 + AROUND) ||
      at.y > size.height * (1 + AROUND);
    if (isFar || text === '') return;
    let widthPx = this.widths.get(text);
    if (widthPx === undefined) {
      widthPx = this.ink.measureText(text).width + 2 * PAD_PX;
      this.widths.set(text, widthPx);
    }
    wishes.push({ key, text, at, clearPx, widthPx, heightPx: LABEL_HEIGHT_PX, ...rest });
  }

  private drawLabels(
    placement: Placement,
    dx: number,
    dy: number,
    size: PaneSize,
    model: OverlayModel,
    c: DrawingColours,
    devicePxPerPx: number,
  ): void {
    const { ink } = this;
    const sharp = (px: number): number => Math.round(px * devicePxPerPx) / devicePxPerPx;
    for (const { wish, left, top } of placement.placed) {
      const x = sharp(left + dx);
      const y = sharp(top + dy);
      if (x > size.width || y > size.height || x + wish.widthPx < 0 || y + wish.heightPx < 0) continue;
      ink.globalAlpha = 0.86;
      ink.fillStyle = c.paper;
      ink.fillRect(x, y, wish.widthPx, wish.heightPx);
      ink.globalAlpha = 1;
      ink.fillStyle = c.ink;
      if (wish.rank >= 8 && wish.rank !== SELECTED_RANK && wish.key.startsWith('mark:')) ink.fillStyle = c.needs;
      ink.fillText(wish.text, x + PAD_PX, y + wish.heightPx / 2);
      if (wish.rank === SELECTED_RANK && model.selection !== null) {
        ink.strokeStyle = c.ink;
        ink.lineWidth = 1;
        ink.strokeRect(x + 0.5, y + 0.5, wish.widthPx - 1, wish.heightPx - 1);
      }
    }
    ink.fillStyle = c.faint;
    for (const crowd of placement.crowds) {
      const x = sharp(crowd.left + dx);
      const y = sharp(crowd.top + dy);
      if (x > size.width || y > size.height || x + CROWD_WIDTH_PX < 0 || y + CROWD_HEIGHT_PX < 0) continue;
      ink.fillText(`+${crowd.count}`, x + 2, y + CROWD_HEIGHT_PX / 2);
    }
  }

  private leaderTip(worst: WorstPoint, model: OverlayModel, view: View, size: PaneSize): Point {
    const reach = worst.deviationMm * model.bandFactor * view.pxPerMm;
    const p = toScreen(view, size, worst.at);
    const further = reach + Math.sign(worst.deviationMm) * 14;
    return { x: p.x + worst.normal.x * further, y: p.y - worst.normal.y * further };
  }

  private drawLeader(worst: WorstPoint, model: OverlayModel, view: View, size: PaneSize, c: DrawingColours): void {
    const from = toScreen(view, size, worst.at);
    const to = this.leaderTip(worst, model, view, size);
    this.ink.strokeStyle = c.ink;
    this.ink.lineWidth = 0.8;
    this.ink.beginPath();
    this.ink.moveTo(from.x, from.y);
    this.ink.lineTo(to.x, to.y);
    this.ink.stroke();
  }
}

function isOffScreen(mark: SceneMark, view: View, size: PaneSize): boolean {
  if (mark.kind === 'plate' || mark.kind === 'keep-out') return false;
  const p = toScreen(view, size, markPoint(mark));
  const r = symbolRadiusPx(mark, view) + (mark.kind === 'tab' ? size.width : 4);
  return p.x < -r || p.y < -r || p.x > size.width + r || p.y > size.height + r;
}
