import type { Scene } from '@gapwright/job';
import type { FromRenderer, PictureEffort, PictureOrder, ToRenderer } from './picture.js';
import { PictureDesk } from './picture-desk.js';

/** What comes back from the renderer. `picture` is a bitmap from the worker, or a finished canvas from the page itself. */
export interface RendererEvents {
  readonly picture: (picture: ImageBitmap | HTMLCanvasElement, order: PictureOrder, effort: PictureEffort) => void;
  readonly index: (index: ArrayBuffer | null) => void;
}

/** Makes pictures somewhere: in a worker where the browser can, else between the page's own frames. */
export interface RendererLink {
  readonly isInWorker: boolean;
  setScene(scene: Scene): void;
  order(order: PictureOrder): void;
  close(): void;
}

function canRenderInWorker(): boolean {
  return typeof Worker === 'function' && typeof OffscreenCanvas === 'function' && typeof ImageBitmap === 'function';
}

export function openRenderer(events: RendererEvents, inWorker = canRenderInWorker()): RendererLink {
  return inWorker ? new WorkerLink(events) : new PageLink(events);
}

class WorkerLink implements RendererLink {
  readonly isInWorker = true;
  private readonly worker = new Worker(new URL('./render.worker.ts', import.meta.url), { type: 'module' });
  private sceneNumber = 0;

  constructor(events: RendererEvents) {
    this.worker.onmessage = (event: MessageEvent<FromRenderer>) => {
      const message = event.data;
      if (message.says === 'ready') return;
      // Pictures of a scene that has been replaced are of no use.
      if (message.scene !== this.sceneNumber) {
        if (message.says === 'picture') message.bitmap.close();
        return;
      }
      if (message.says === 'index') events.index(message.index);
      else events.picture(message.bitmap, message.order, message.effort);
    };
  }

  setScene(scene: Scene): void {
    this.sceneNumber++;
    this.say({ says: 'scene', number: this.sceneNumber, scene });
  }

  order(order: PictureOrder): void {
    this.say({ says: 'order', order });
  }

  close(): void {
    this.worker.terminate();
  }

  private say(message: ToRenderer): void {
    this.worker.postMessage(message);
  }
}

/** Work per slice on the page itself: leaves most of a frame of 16 ms to everything else. */
const PAGE_SLICE_MS = 5;

class PageLink implements RendererLink {
  readonly isInWorker = false;
  private readonly desk: PictureDesk;
  private sceneNumber = 0;
  private timer: ReturnType<typeof setTimeout> | null = null;

  constructor(private readonly events: RendererEvents) {
    this.desk = new PictureDesk(
      (width, height) => {
        const canvas = document.createElement('canvas');
        canvas.width = width;
        canvas.height = height;
        return canvas;
      },
      false,
      ({ order, sheet, effort }) => this.events.picture(sheet as HTMLCanvasElement, order, effort),
    );
  }

  setScene(scene: Scene): void {
    this.sceneNumber++;
    const number = this.sceneNumber;
    this.desk.setScene(number, scene);
    setTimeout(() => {
      if (number === this.sceneNumber) this.events.index(this.desk.pickIndex());
    });
  }

  order(order: PictureOrder): void {
    this.desk.order(order);
    this.keepWorking();
  }

  close(): void {
    if (this.timer !== null) clearTimeout(this.timer);
    this.sceneNumber++;
  }

  private keepWorking(): void {
    if (this.timer !== null || !this.desk.hasWork) return;
    this.timer = setTimeout(() => {
      this.timer = null;
      this.desk.work(PAGE_SLICE_MS);
      this.keepWorking();
    });
  }
}
