import { type Affine, type Point, transformPoint } from '@gapwright/geometry';
import type { DxfEntity, DxfInsert } from '../dxf/drawing.js';

/**
 * How far from the origin an entity may reach, mm, by the points that define it; the curve itself stays within a small
 * multiple. Known before any curve is fitted: fitting a curve of a thousand kilometres within a micrometre takes long.
 */
export function reachMm(entity: Exclude<DxfEntity, DxfInsert>, map: Affine): number {
  let reach = 0;
  for (const p of definingPoints(entity)) {
    const { x, y } = transformPoint(p, map);
    reach = Math.max(reach, Math.abs(x), Math.abs(y));
  }
  return reach;
}

function definingPoints(entity: Exclude<DxfEntity, DxfInsert>): readonly Point[] {
  switch (entity.kind) {
    case 'line':
      return [entity.from, entity.to];
    case 'arc':
    case 'circle':
      return corners(entity.centre, entity.radius);
    case 'polyline':
      return entity.vertices;
    case 'ellipse': {
      const { major, ratio } = entity;
      return corners(entity.centre, Math.sqrt(major.x * major.x + major.y * major.y) * Math.max(1, Math.abs(ratio)));
    }
    case 'spline':
      return entity.controlPoints;
    case 'fit-spline':
      return entity.points;
  }
}

function corners(centre: Point, r: number): Point[] {
  return [
    { x: centre.x - r, y: centre.y - r },
    { x: centre.x + r, y: centre.y + r },
  ];
}
