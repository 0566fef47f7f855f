import type { Point } from '@gapwright/geometry';
import type { Scene, SceneMark } from '@gapwright/job';
import Flatbush from 'flatbush';
import type { LengthUnit } from '../units/length.js';
import { autoFactor, type WorstPoint, worstPoints } from './band.js';
import { onColoursChange, readColours } from './colours.js';
import { isLayerShown } from './line-weights.js';
import { wholeBox } from './marks.js';
import type { Measure } from './measure.js';
import { Overlay, type OverlayModel } from './overlay.js';
import { PickIndex, type SegmentHit } from './pick-index.js';
import type { PictureEffort, PictureKind } from './picture.js';
import { PictureStack } from './picture-stack.js';
import type { Playhead } from './playhead.js';
import { STRIDE } from './segments.js';
import { bestSnap, type Snap, segmentSnaps } from './snap.js';
import type { DrawingColours, DrawingSelection, DrawingShow } from './types.js';
import { fitView, type PaneSize, panBy, toPlane, type View, zoomAt } from './view.js';
import { lineAtPlace, placeAt, pointAtPlace } from './walk.js';

/** What the pane tells the stage to show. */
export interface StageModel {
  readonly scene: Scene | null;
  readonly selection: DrawingSelection | null;
  readonly show: DrawingShow;
  readonly operation: number | null;
  readonly units: LengthUnit;
  readonly toleranceMm: number | null;
  /** Magnification of the error band; null picks one that can be read at this zoom. */
  readonly bandFactor: number | null;
  readonly measure: Measure;
  readonly isMeasuring: boolean;
  /** The place the keyboard points at. */
  readonly pointed: Snap | null;
}

/** What script on the page's own thread took, for measuring. */
export type StageCost = (what: 'input' | 'frame' | 'hover' | 'picture', ms: number) => void;

export interface StageEvents {
  readonly hovered: (hit: SegmentHit | null, mark: SceneMark | null, at: Point | null, snap: Snap | null) => void;
  readonly looked: (facts: { readonly dropped: number; readonly bandFactor: number; readonly pxPerMm: number }) => void;
  readonly painted: (kind: PictureKind, effort: PictureEffort) => void;
  readonly cost: StageCost;
}

/** How far around the cursor lines are looked for, CSS pixels. */
const HOVER_REACH_PX = 6;
const SNAP_REACH_PX = 10;
const WORST_SHOWN = 6;

/** The drawing's surface: the view, the pictures under it and the layer of marks above. */
export class Stage {
  view: View = { x: 0, y: 0, pxPerMm: 1 };
  size: PaneSize = { width: 0, height: 0 };
  private devicePxPerPx = 1;
  private model: StageModel | null = null;
  private overlayModel: OverlayModel | null = null;
  private labelKey: object = {};
  private colours: DrawingColours;
  private pick: PickIndex | null = null;
  private worst: readonly WorstPoint[] = [];
  private cursor: Point | null = null;
  private cursorMoved = false;
  private hit: SegmentHit | null = null;
  private snap: Snap | null = null;
  private isFitted = false;
  /** Nobody has moved the drawing since it was fitted, so it stays fitted when the pane changes its size. */
  private isStillFitted = false;
  private awaitedLook: Point | null = null;
  private frameRequest = 0;
  private readonly pictures: PictureStack;
  private readonly overlay: Overlay;
  private readonly ends: (() => void)[] = [];

  constructor(
    private readonly host: HTMLElement,
    private readonly playhead: Playhead,
    private readonly events: StageEvents,
  ) {
    this.colours = readColours(host);
    this.pictures = new PictureStack(host, {
      painted: (kind, effort, takenMs) => {
        this.invalidate();
        events.cost('picture', takenMs);
        events.painted(kind, effort);
      },
      index: (bytes) => {
        const scene = this.model?.scene ?? null;
        this.pick = bytes === null || scene === null ? null : new PickIndex(scene, Flatbush.from(bytes));
      },
    });
    const top = document.createElement('canvas');
    top.className = 'drawing-layer drawing-top';
    host.append(top);
    this.overlay = new Overlay(top);
    this.overlay.setFace(getComputedStyle(host).fontFamily);
    const observer = new ResizeObserver(() => this.measureHost());
    observer.observe(host);
    this.ends.push(
      () => observer.disconnect(),
      () => top.remove(),
      onColoursChange(() => this.recolour()),
      playhead.subscribe(() => this.followPlayhead()),
    );
    // Text drawn before the page's own typeface has come is measured again.
    void document.fonts.ready.then(() => {
      this.overlay.setFace(getComputedStyle(host).fontFamily);
      this.invalidate();
    });
  }

  update(model: StageModel): void {
    const before = this.model;
    this.model = model;
    if (before?.scene !== model.scene) {
      this.pick = null;
      this.hit = null;
      this.pictures.setScene(model.scene);
      if (!hasSameBox(before?.scene ?? null, model.scene)) this.isFitted = false;
    }
    if (before?.scene !== model.scene || before?.operation !== model.operation || before.show !== model.show) {
      const bands = model.show.band ? shownBands(model) : [];
      this.worst = worstPoints(bands, WORST_SHOWN);
    }
    if (!model.isMeasuring) this.snap = null;
    this.labelKey = {};
    this.fitOnce();
    this.followPlayhead();
    this.orderPictures(false);
    this.invalidate();
  }

  fit(): void {
    const scene = this.model?.scene;
    if (scene == null || this.size.width === 0) return;
    this.setView(fitView(wholeBox(scene), this.size));
    this.isStillFitted = true;
  }

  zoom(at: Point, factor: number): void {
    this.setView(zoomAt(this.view, this.size, at, factor));
  }

  pan(dx: number, dy: number): void {
    this.setView(panBy(this.view, dx, dy));
  }

  /** Brings a point of the plane into the middle, closer if the drawing is shown from far. */
  lookAt(p: Point): void {
    if (!this.isFitted) {
      this.awaitedLook = p;
      return;
    }
    const scene = this.model?.scene;
    const fitted = scene == null ? this.view.pxPerMm : fitView(wholeBox(scene), this.size).pxPerMm;
    this.setView({ x: p.x, y: p.y, pxPerMm: Math.max(this.view.pxPerMm, fitted * 3) });
  }

  /** Moves the drawing just so far that a point of the plane is well inside the pane. */
  bringIn(p: Point): void {
    const edge = 40 / this.view.pxPerMm;
    const halfX = this.size.width / 2 / this.view.pxPerMm - edge;
    const halfY = this.size.height / 2 / this.view.pxPerMm - edge;
    const x = Math.min(p.x + halfX, Math.max(p.x - halfX, this.view.x));
    const y = Math.min(p.y + halfY, Math.max(p.y - halfY, this.view.y));
    if (x !== this.view.x || y !== this.view.y) this.setView({ ...this.view, x, y });
  }

  hover(at: Point | null): void {
    this.cursor = at;
    this.cursorMoved = true;
    this.invalidate();
  }

  /** The mark or line at a screen point. */
  at(screen: Point, reachPx: number): { readonly mark: SceneMark | null; readonly hit: SegmentHit | null } {
    const mark =
      this.overlayModel === null ? null : this.overlay.markAt(this.overlayModel, screen, reachPx, this.view, this.size);
    return { mark, hit: mark === null ? this.hitAt(screen, reachPx) : null };
  }

  snapAt(screen: Point, reachPx = SNAP_REACH_PX): Snap {
    const cursor = toPlane(this.view, this.size, screen);
    const model = this.model;
    const reachMm = reachPx / this.view.pxPerMm;
    const snaps: Snap[] = [];
    const from = model?.measure.second === null ? (model.measure.first?.at ?? null) : null;
    if (model?.scene != null && this.pick !== null) {
      const { layers, marks } = model.scene;
      this.pick.each(
        cursor,
        reachMm,
        (layer) => isLayerShown(layer, model.show.passes, model.operation),
        (layer, segment) => {
          snaps.push(...segmentSnaps(layers[layer]!.paths.values, segment * STRIDE, cursor, from));
        },
      );
      for (const mark of marks) {
        if (mark.kind === 'start hole') snaps.push({ kind: 'centre', at: mark.at, radiusMm: mark.diameterMm / 2 });
        else if (mark.kind === 'datum') snaps.push({ kind: 'end', at: mark.at, radiusMm: null });
      }
    }
    return bestSnap(snaps, cursor, reachMm);
  }

  destroy(): void {
    cancelAnimationFrame(this.frameRequest);
    for (const end of this.ends) end();
    this.pictures.close();
  }

  private setView(view: View): void {
    const started = performance.now();
    this.view = view;
    this.isStillFitted = false;
    this.cursorMoved = this.cursor !== null;
    this.orderPictures(true);
    this.invalidate();
    this.events.cost('input', performance.now() - started);
  }

  private hitAt(screen: Point, reachPx: number): SegmentHit | null {
    const model = this.model;
    if (model === null || this.pick === null) return null;
    const { pxPerMm } = this.view;
    return this.pick.nearest(toPlane(this.view, this.size, screen), reachPx / pxPerMm, pxPerMm, (layer) =>
      isLayerShown(layer, model.show.passes, model.operation),
    );
  }

  private invalidate(): void {
    if (this.frameRequest === 0) this.frameRequest = requestAnimationFrame(this.frame);
  }

  private readonly frame = (): void => {
    this.frameRequest = 0;
    if (this.model === null || this.size.width === 0) return;
    if (this.cursorMoved) this.feel();
    const started = performance.now();
    this.pictures.place(this.view, this.size);
    const bandFactor = this.bandFactor();
    const { model } = this;
    this.overlayModel = {
      scene: model.scene,
      selection: model.selection,
      withMarks: model.show.marks,
      operation: model.operation,
      units: model.units,
      worst: this.worst,
      bandFactor,
      measure: model.measure,
      snap: this.snap ?? model.pointed,
      wire: this.wire(),
    };
    const { view, size } = this;
    const dropped = this.overlay.paint(this.overlayModel, this.labelKey, view, size, this.devicePxPerPx, this.colours);
    this.events.looked({ dropped, bandFactor, pxPerMm: view.pxPerMm });
    this.events.cost('frame', performance.now() - started);
  };

  /** What lies under the cursor now. */
  private feel(): void {
    const started = performance.now();
    this.cursorMoved = false;
    const { cursor, model } = this;
    const found = cursor === null ? { mark: null, hit: null } : this.at(cursor, HOVER_REACH_PX);
    if (found.hit?.layer !== this.hit?.layer || found.hit?.path !== this.hit?.path) {
      this.hit = found.hit;
      this.orderPictures(false);
    }
    this.snap = cursor !== null && model?.isMeasuring === true ? this.snapAt(cursor) : null;
    this.events.hovered(
      found.hit,
      found.mark,
      cursor === null ? null : toPlane(this.view, this.size, cursor),
      this.snap,
    );
    this.events.cost('hover', performance.now() - started);
  }

  private wire(): OverlayModel['wire'] {
    const { walk, atMin } = this.playhead;
    if (walk === null || this.model?.show.erosion !== true) return null;
    const place = placeAt(walk, atMin);
    const at = pointAtPlace(walk, place);
    if (at === null) return null;
    const halfKerfMm = walk.halfKerfMm[Math.min(place.move, walk.halfKerfMm.length - 1)]!;
    return { at, halfKerfMm, line: lineAtPlace(walk, place) };
  }

  private bandFactor(): number {
    const model = this.model;
    if (model === null) return 1;
    // The band keeps the factor of its picture until a new one is drawn, so that contour and callouts agree.
    const pxPerMm = this.pictures.settledView?.pxPerMm ?? this.view.pxPerMm;
    return model.bandFactor ?? autoFactor(shownBands(model), model.toleranceMm, pxPerMm);
  }

  private orderPictures(isViewOnly: boolean): void {
    const { model } = this;
    if (model?.scene == null || this.size.width === 0) return;
    this.pictures.want(
      this.view,
      this.size,
      this.devicePxPerPx,
      () => ({
        colours: this.colours,
        withPasses: model.show.passes,
        operation: model.operation,
        chosen: model.selection?.mark === undefined ? (model.selection?.feature ?? null) : null,
        hovered: this.hit === null ? null : { layer: this.hit.layer, path: this.hit.path },
        band:
          model.show.band && model.scene !== null && model.scene.bands.length > 0
            ? { factor: this.bandFactor(), toleranceMm: model.toleranceMm }
            : null,
        erosion:
          model.show.erosion && this.playhead.walk !== null
            ? { operation: this.playhead.walk.operation, atMin: this.playhead.atMin }
            : null,
      }),
      isViewOnly,
    );
  }

  private followPlayhead(): void {
    if (this.model?.show.erosion !== true) return;
    this.orderPictures(false);
    this.invalidate();
  }

  private recolour(): void {
    this.colours = readColours(this.host);
    this.orderPictures(false);
    this.invalidate();
  }

  private fitOnce(): void {
    if (this.isFitted || this.model?.scene == null || this.size.width === 0) return;
    this.isFitted = true;
    this.isStillFitted = true;
    this.view = fitView(wholeBox(this.model.scene), this.size);
    this.pictures.forgetFrame();
    if (this.awaitedLook !== null) this.lookAt(this.awaitedLook);
    this.awaitedLook = null;
  }

  private measureHost(): void {
    const size = { width: this.host.clientWidth, height: this.host.clientHeight };
    const ratio = window.devicePixelRatio || 1;
    if (size.width === 0 || size.height === 0) return;
    if (size.width === this.size.width && size.height === this.size.height && ratio === this.devicePxPerPx) return;
    this.size = size;
    this.devicePxPerPx = ratio;
    this.overlay.resize(size, ratio);
    if (this.isStillFitted) this.isFitted = false;
    this.fitOnce();
    this.pictures.forgetFrame();
    this.orderPictures(false);
    this.invalidate();
  }
}

function shownBands(model: StageModel): Scene['bands'] {
  return (model.scene?.bands ?? []).filter((b) => model.operation === null || b.operation === model.operation);
}

function hasSameBox(a: Scene | null, b: Scene | null): boolean {
  if (a === null || b === null) return a === b;
  return (
    a.boxMm.minX === b.boxMm.minX &&
    a.boxMm.minY === b.boxMm.minY &&
    a.boxMm.maxX === b.boxMm.maxX &&
    a.boxMm.maxY === b.boxMm.maxY
  );
}
