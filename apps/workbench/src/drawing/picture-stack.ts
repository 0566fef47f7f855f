import type { Scene } from '@gapwright/job';
import {
  isSameFrame,
  type PathPlace,
  PICTURE_KINDS,
  type PictureContent,
  type PictureEffort,
  type PictureFrame,
  type PictureKind,
} from './picture.js';
import { PictureLayer } from './picture-layer.js';
import { openRenderer, type RendererLink } from './renderer-link.js';
import type { DrawingColours } from './types.js';
import { type PaneSize, pictureShift, type View } from './view.js';

/** Everything the pictures depend on besides the view. */
export interface Wanted {
  readonly colours: DrawingColours;
  readonly withPasses: boolean;
  readonly operation: number | null;
  readonly chosen: string | null;
  readonly hovered: PathPlace | null;
  readonly band: { readonly factor: number; readonly toleranceMm: number | null } | null;
  readonly erosion: { readonly operation: number; readonly atMin: number } | null;
}

export interface StackEvents {
  /** A picture has come; putting it on the screen and asking for the next took `takenMs` here. */
  readonly painted: (kind: PictureKind, effort: PictureEffort, takenMs: number) => void;
  readonly index: (bytes: ArrayBuffer | null) => void;
}

/** Pictures reach this share of the pane further on every side, so that a drag shows no edge at once. */
const MARGIN = 0.15;
/** After this long without a change of view the pictures are made for it, ms. */
const SETTLE_MS = 110;
/** A stretched picture is replaced even while the view changes when it is off by more than this factor. */
const MOST_STRETCH = 1.6;

/** The three pictures under the marks: ordered, kept, moved, and made anew when the view has settled. */
export class PictureStack {
  private readonly layers: ReadonlyMap<PictureKind, PictureLayer>;
  private readonly renderer: RendererLink;
  private readonly asked = new Map<PictureKind, string>();
  private readonly askedFrame = new Map<PictureKind, PictureFrame>();
  private readonly busy = new Map<PictureKind, number>();
  private frame: PictureFrame | null = null;
  private nextOrder = 1;
  private settleTimer: ReturnType<typeof setTimeout> | null = null;
  private wanted: (() => Wanted) | null = null;
  private latest: { readonly view: View; readonly size: PaneSize; readonly devicePxPerPx: number } | null = null;

  constructor(
    host: HTMLElement,
    private readonly events: StackEvents,
  ) {
    this.layers = new Map(PICTURE_KINDS.map((kind) => [kind, new PictureLayer(host, `drawing-layer drawing-${kind}`)]));
    this.renderer = openRenderer({
      picture: (picture, order, effort) => {
        const started = performance.now();
        const { kind } = order.content;
        if (this.busy.get(kind) === order.order) this.busy.delete(kind);
        // Taken off in the meantime.
        if (!this.asked.has(kind)) {
          if (!(picture instanceof HTMLCanvasElement)) picture.close();
          return;
        }
        // Also one that has been overtaken by a newer order: it is better than what is shown.
        this.layers.get(kind)!.show(picture, order.frame);
        this.order();
        this.events.painted(kind, effort, performance.now() - started);
      },
      index: this.events.index,
    });
  }

  setScene(scene: Scene | null): void {
    this.asked.clear();
    this.busy.clear();
    if (scene === null) for (const layer of this.layers.values()) layer.hide();
    else this.renderer.setScene(scene);
  }

  /** The view the pictures are made for. */
  get settledView(): View | null {
    return this.frame?.view ?? null;
  }

  /** The next order is for the view of that moment, whatever was drawn before. */
  forgetFrame(): void {
    this.frame = null;
  }

  want(view: View, size: PaneSize, devicePxPerPx: number, wanted: () => Wanted, isViewOnly: boolean): void {
    this.latest = { view, size, devicePxPerPx };
    this.wanted = wanted;
    if (this.frame === null) {
      this.settle();
      return;
    }
    if (!isViewOnly) {
      this.order();
      return;
    }
    if (!this.busy.has('lines') && this.isOutgrown(view, size)) {
      this.settle();
      return;
    }
    if (this.settleTimer !== null) clearTimeout(this.settleTimer);
    this.settleTimer = setTimeout(() => this.settle(), SETTLE_MS);
  }

  place(view: View, size: PaneSize): void {
    for (const layer of this.layers.values()) layer.place(view, size);
  }

  close(): void {
    if (this.settleTimer !== null) clearTimeout(this.settleTimer);
    this.renderer.close();
    for (const layer of this.layers.values()) layer.remove();
  }

  private isOutgrown(view: View, size: PaneSize): boolean {
    if (this.frame === null) return true;
    const { dx, dy, scale } = pictureShift(this.frame.view, view);
    return (
      Math.abs(dx) > size.width * MARGIN ||
      Math.abs(dy) > size.height * MARGIN ||
      scale > MOST_STRETCH ||
      scale < 1 / MOST_STRETCH
    );
  }

  private settle(): void {
    if (this.settleTimer !== null) clearTimeout(this.settleTimer);
    this.settleTimer = null;
    if (this.latest === null) return;
    const { view, size, devicePxPerPx } = this.latest;
    // Whole device pixels on both sides, so that a picture that is not moved lies exactly on the screen's pixels.
    const extent = (px: number): number => Math.round(px * devicePxPerPx) + 2 * Math.round(px * MARGIN * devicePxPerPx);
    const frame = { view, width: extent(size.width), height: extent(size.height), devicePxPerPx };
    if (this.frame === null || !isSameFrame(frame, this.frame)) this.frame = frame;
    this.order();
  }

  /** Orders every picture that would differ from the one last ordered. */
  private order(): void {
    const { frame, wanted } = this;
    if (frame === null || wanted === null) return;
    const { colours, withPasses, operation, chosen, hovered, band, erosion } = wanted();
    this.orderOne(frame, colours, { kind: 'lines', withPasses, operation });
    if (chosen === null && hovered === null && band === null) this.drop('emphasis');
    else this.orderOne(frame, colours, { kind: 'emphasis', chosen, hovered, withPasses, operation, band });
    if (erosion === null) this.drop('erosion');
    // The erosion follows the playhead as fast as it is drawn: a new moment waits for the one at work, a new view does not.
    else if (!this.busy.has('erosion') || !this.isAskedFor('erosion', frame)) {
      this.orderOne(frame, colours, { kind: 'erosion', ...erosion });
    }
  }

  private isAskedFor(kind: PictureKind, frame: PictureFrame): boolean {
    return this.askedFrame.get(kind) === frame;
  }

  private orderOne(frame: PictureFrame, colours: DrawingColours, content: PictureContent): void {
    const key = JSON.stringify([content, colours]);
    if (this.asked.get(content.kind) === key && this.isAskedFor(content.kind, frame)) return;
    this.asked.set(content.kind, key);
    this.askedFrame.set(content.kind, frame);
    const order = this.nextOrder++;
    this.busy.set(content.kind, order);
    this.renderer.order({ order, frame, colours, content });
  }

  private drop(kind: PictureKind): void {
    this.asked.delete(kind);
    this.busy.delete(kind);
    this.layers.get(kind)!.hide();
  }
}
