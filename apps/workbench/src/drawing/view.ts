import type { Box, Point } from '@gapwright/geometry';

/** Which piece of the plane is on the screen: its middle in mm and the screen pixels (CSS) per mm. y points up. */
export interface View {
  readonly x: number;
  readonly y: number;
  readonly pxPerMm: number;
}

/** Size of the pane in CSS pixels. */
export interface PaneSize {
  readonly width: number;
  readonly height: number;
}

/** A 0.001 mm step is 10 px at this magnification; more shows nothing a machine can do. */
const MOST_PX_PER_MM = 10_000;
/** A drawing of 10 m then is 10 px wide. */
const LEAST_PX_PER_MM = 0.001;
/** Share of the pane the drawing takes when it is fitted. */
const FITTED_SHARE = 0.86;

export function toScreen(view: View, size: PaneSize, p: Point): Point {
  return { x: size.width / 2 + (p.x - view.x) * view.pxPerMm, y: size.height / 2 - (p.y - view.y) * view.pxPerMm };
}

export function toPlane(view: View, size: PaneSize, screen: Point): Point {
  return {
    x: view.x + (screen.x - size.width / 2) / view.pxPerMm,
    y: view.y - (screen.y - size.height / 2) / view.pxPerMm,
  };
}

/** Magnifies by `factor` and keeps the point of the plane under `screen` where it is. */
export function zoomAt(view: View, size: PaneSize, screen: Point, factor: number): View {
  const pxPerMm = Math.min(MOST_PX_PER_MM, Math.max(LEAST_PX_PER_MM, view.pxPerMm * factor));
  const held = toPlane(view, size, screen);
  return {
    x: held.x - (screen.x - size.width / 2) / pxPerMm,
    y: held.y + (screen.y - size.height / 2) / pxPerMm,
    pxPerMm,
  };
}

/** Moves the drawing by screen pixels. */
export function panBy(view: View, dx: number, dy: number): View {
  return { ...view, x: view.x - dx / view.pxPerMm, y: view.y + dy / view.pxPerMm };
}

/** The whole box in the middle of the pane. A box without width or height is shown 10 mm wide. */
export function fitView(box: Box, size: PaneSize): View {
  const width = box.maxX - box.minX;
  const height = box.maxY - box.minY;
  const widthMm = width > 0 || height > 0 ? width : 10;
  const perMm = Math.min(
    widthMm > 0 ? size.width / widthMm : Number.POSITIVE_INFINITY,
    height > 0 ? size.height / height : Number.POSITIVE_INFINITY,
  );
  const pxPerMm = Math.min(MOST_PX_PER_MM, Math.max(LEAST_PX_PER_MM, perMm * FITTED_SHARE));
  return { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2, pxPerMm };
}

/** The box of the plane that is on the screen, with `marginPx` more on every side. */
export function visibleBox(view: View, size: PaneSize, marginPx = 0): Box {
  const halfX = (size.width / 2 + marginPx) / view.pxPerMm;
  const halfY = (size.height / 2 + marginPx) / view.pxPerMm;
  return { minX: view.x - halfX, minY: view.y - halfY, maxX: view.x + halfX, maxY: view.y + halfY };
}

/**
 * How a picture drawn for `drawn` must be moved and stretched (about its middle) to lie right for `now`:
 * CSS pixels and a factor.
 */
export function pictureShift(
  drawn: View,
  now: View,
): { readonly dx: number; readonly dy: number; readonly scale: number } {
  return {
    dx: (drawn.x - now.x) * now.pxPerMm,
    dy: -(drawn.y - now.y) * now.pxPerMm,
    scale: now.pxPerMm / drawn.pxPerMm,
  };
}
