import type { Scene } from '@gapwright/job';
import type { Raster } from './trace-path.js';
import type { DrawingColours } from './types.js';
import type { View } from './view.js';

/** The pictures the renderer makes, each on its own transparent layer: the lowest first. */
export const PICTURE_KINDS = ['erosion', 'lines', 'emphasis'] as const;
export type PictureKind = (typeof PICTURE_KINDS)[number];

/** Frame of a picture: the view in its middle, its size and the device pixels per CSS pixel. */
export interface PictureFrame {
  readonly view: View;
  /** Size of the picture, device pixels. */
  readonly width: number;
  readonly height: number;
  readonly devicePxPerPx: number;
}

/** One path of one layer. */
export interface PathPlace {
  readonly layer: number;
  readonly path: number;
}

export type PictureContent =
  | { readonly kind: 'lines'; readonly withPasses: boolean; readonly operation: number | null }
  | {
      readonly kind: 'emphasis';
      /** Feature id, or name of a reference layer. */
      readonly chosen: string | null;
      readonly hovered: PathPlace | null;
      readonly withPasses: boolean;
      readonly operation: number | null;
      readonly band: { readonly factor: number; readonly toleranceMm: number | null } | null;
    }
  | { readonly kind: 'erosion'; readonly operation: number; readonly atMin: number };

export interface PictureOrder {
  readonly order: number;
  readonly frame: PictureFrame;
  readonly colours: DrawingColours;
  readonly content: PictureContent;
}

/** What it took to make a picture. */
export interface PictureEffort {
  /** Canvas stroke and fill calls. */
  readonly drawCalls: number;
  readonly penStrokes: number;
  /** Time at work on it, without waiting, ms. */
  readonly workMs: number;
}

export type ToRenderer =
  | { readonly says: 'scene'; readonly number: number; readonly scene: Scene }
  | { readonly says: 'order'; readonly order: PictureOrder };

export type FromRenderer =
  | { readonly says: 'ready' }
  | { readonly says: 'index'; readonly scene: number; readonly index: ArrayBuffer | null }
  | {
      readonly says: 'picture';
      readonly scene: number;
      readonly order: PictureOrder;
      readonly bitmap: ImageBitmap;
      readonly effort: PictureEffort;
    };

/** The picture's place on the plane. */
export function rasterOf(frame: PictureFrame, reachPx: number): Raster {
  const pxPerMm = frame.view.pxPerMm * frame.devicePxPerPx;
  return {
    originX: frame.width / 2 - frame.view.x * pxPerMm,
    originY: frame.height / 2 + frame.view.y * pxPerMm,
    pxPerMm,
    width: frame.width,
    height: frame.height,
    reachPx,
  };
}

export function isSameFrame(a: PictureFrame, b: PictureFrame): boolean {
  return (
    a.width === b.width &&
    a.height === b.height &&
    a.devicePxPerPx === b.devicePxPerPx &&
    a.view.x === b.view.x &&
    a.view.y === b.view.y &&
    a.view.pxPerMm === b.view.pxPerMm
  );
}
