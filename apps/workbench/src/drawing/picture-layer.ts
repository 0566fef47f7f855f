import type { PictureFrame } from './picture.js';
import { type PaneSize, pictureShift, type View } from './view.js';

/**
 * One picture on the screen. It stays while a newer one is made and is moved and stretched to where it belongs; that
 * costs the page a style change per frame, however much is drawn on it.
 */
export class PictureLayer {
  private canvas: HTMLCanvasElement;
  private frame: PictureFrame | null = null;

  constructor(
    host: HTMLElement,
    private readonly className: string,
  ) {
    this.canvas = document.createElement('canvas');
    this.canvas.className = className;
    this.canvas.hidden = true;
    host.append(this.canvas);
  }

  show(picture: ImageBitmap | HTMLCanvasElement, frame: PictureFrame): void {
    this.frame = frame;
    if (picture instanceof HTMLCanvasElement) {
      picture.className = this.className;
      this.canvas.replaceWith(picture);
      this.canvas = picture;
    } else {
      this.canvas.getContext('bitmaprenderer')?.transferFromImageBitmap(picture);
    }
    this.canvas.hidden = false;
    this.canvas.style.width = `${frame.width / frame.devicePxPerPx}px`;
    this.canvas.style.height = `${frame.height / frame.devicePxPerPx}px`;
  }

  hide(): void {
    this.canvas.hidden = true;
    this.frame = null;
  }

  get drawnFor(): PictureFrame | null {
    return this.frame;
  }

  place(view: View, size: PaneSize): void {
    if (this.frame === null) return;
    const { width, height, devicePxPerPx } = this.frame;
    const shift = pictureShift(this.frame.view, view);
    const left = (size.width - width / devicePxPerPx) / 2 + shift.dx;
    const top = (size.height - height / devicePxPerPx) / 2 + shift.dy;
    const scale = shift.scale === 1 ? '' : ` scale(${shift.scale})`;
    this.canvas.style.transform = `translate(${left}px, ${top}px)${scale}`;
  }

  remove(): void {
    this.canvas.remove();
  }
}
