import { arcPieces, type Contour, contour, line, type Point, type Segment } from '@gapwright/geometry';
import type { WireRequest } from '../plan.js';

/** A request that any wire of the starting book can meet in most drawings. */
export function plainRequest(over: Partial<WireRequest> = {}): WireRequest {
  return { materialId: 'D2', heightMm: 30, raUm: 1.6, toleranceMm: 0.02, quantity: 1, ...over };
}

export function polygon(...points: readonly (readonly [x: number, y: number])[]): Contour {
  const at = points.map(([x, y]): Point => ({ x, y }));
  return contour(
    at.map((p, i) => line(p, at[(i + 1) % at.length]!)),
    true,
  );
}

export function rectangle(x: number, y: number, width: number, height: number): Contour {
  return polygon([x, y], [x + width, y], [x + width, y + height], [x, y + height]);
}

export function circle(x: number, y: number, radiusMm: number): Contour {
  return contour(arcPieces({ x, y }, radiusMm, 0, 2 * Math.PI), true);
}

/** A rectangle with rounded corners, counter-clockwise. */
export function roundedRectangle(x: number, y: number, width: number, height: number, r: number): Contour {
  const corners: [number, number, number][] = [
    [x + width - r, y + r, -Math.PI / 2],
    [x + width - r, y + height - r, 0],
    [x + r, y + height - r, Math.PI / 2],
    [x + r, y + r, Math.PI],
  ];
  const arcs = corners.map(([cx, cy, start]) => arcPieces({ x: cx, y: cy }, r, start, Math.PI / 2)[0]!);
  const segments: Segment[] = [];
  arcs.forEach((a, i) => {
    const before = arcs[(i + 3) % 4]!;
    if (Math.abs(before.to.x - a.from.x) + Math.abs(before.to.y - a.from.y) > 1e-9)
      segments.push(line(before.to, a.from));
    segments.push(a);
  });
  return contour(segments, true);
}

/** A wheel around (0, 0) with straight teeth as wide as the gaps between them, counter-clockwise. */
export function toothed(teeth: number, tipRadiusMm: number, rootRadiusMm: number): Contour {
  const pitch = (2 * Math.PI) / teeth;
  const at = (k: number, radiusMm: number): [number, number] => [
    radiusMm * Math.cos(k * pitch),
    radiusMm * Math.sin(k * pitch),
  ];
  return polygon(
    ...Array.from({ length: teeth }, (_, k) => [
      at(k, tipRadiusMm),
      at(k + 0.5, tipRadiusMm),
      at(k + 0.5, rootRadiusMm),
      at(k + 1, rootRadiusMm),
    ]).flat(),
  );
}
