import type { Problem, Result } from '@gapwright/base';
import {
  type Affine,
  type ArcSegment,
  arcCurve,
  arcPieces,
  bulgeSegments,
  ellipseCurve,
  fitArcs,
  isMirroring,
  isSimilarity,
  line,
  nurbsCurve,
  type ParametricCurve,
  type Point,
  type Segment,
  splineThroughPoints,
  transformCurve,
  transformPoint,
  transformVector,
} from '@gapwright/geometry';
import type { DxfArc, DxfCircle, DxfEllipse, DxfEntity, DxfInsert, DxfPolyline } from '../dxf/drawing.js';

/** An entity as connected lines and arcs in mm. */
export interface EntityPieces {
  readonly segments: readonly Segment[];
  /** True when the entity closes on itself. */
  readonly isClosed: boolean;
  /** Largest distance between the drawn curve and the segments, mm; 0 where they are exact. */
  readonly deviationMm: number;
  readonly problems: readonly Problem[];
}

/** The entity under `map`. Lines and arcs stay exact under similarities; curves are fitted within `fitMm`. */
export function entityPieces(entity: Exclude<DxfEntity, DxfInsert>, map: Affine, fitMm: number): EntityPieces {
  switch (entity.kind) {
    case 'line':
      return exact([line(transformPoint(entity.from, map), transformPoint(entity.to, map))], false);
    case 'arc':
      return arcOf(entity, entity.startRad, entity.sweepRad, map, fitMm);
    case 'circle':
      return arcOf(entity, 0, 2 * Math.PI, map, fitMm);
    case 'polyline':
      return polylineOf(entity, map, fitMm);
    case 'ellipse':
      return ellipseOf(entity, map, fitMm);
    case 'spline': {
      const { degree, knots, controlPoints, weights, isPeriodic } = entity;
      const image = controlPoints.map((p) => transformPoint(p, map));
      const curves = nurbsCurve(degree, knots, image, weights ?? undefined, { isPeriodic });
      return fitted(curves.value ?? [], curves.problems, fitMm);
    }
    case 'fit-spline': {
      // The spline is that of the drawn points: it is found in the drawing first and mapped then.
      const found = splineThroughPoints(entity.points, {
        ...(entity.startTangent === null ? {} : { startTangent: entity.startTangent }),
        ...(entity.endTangent === null ? {} : { endTangent: entity.endTangent }),
        isClosed: entity.isClosed,
      });
      return ofCurve(found, map, fitMm);
    }
  }
}

function exact(segments: readonly Segment[], isClosed: boolean): EntityPieces {
  return { segments, isClosed, deviationMm: 0, problems: [] };
}

function ofCurve(curve: Result<ParametricCurve>, map: Affine, fitMm: number): EntityPieces {
  return fitted(curve.value === null ? [] : [transformCurve(curve.value, map)], curve.problems, fitMm);
}

function fitted(curves: readonly ParametricCurve[], problems: readonly Problem[], fitMm: number): EntityPieces {
  const segments: Segment[] = [];
  let deviationMm = 0;
  for (const curve of curves) {
    const found = fitArcs(curve, fitMm);
    for (const s of found.segments) segments.push(s);
    deviationMm = Math.max(deviationMm, found.largestDeviationMm);
  }
  const first = segments[0];
  const last = segments.at(-1);
  const isClosed =
    first !== undefined && last !== undefined && first.from.x === last.to.x && first.from.y === last.to.y;
  return { segments, isClosed, deviationMm, problems };
}

function arcOf(
  entity: DxfArc | DxfCircle,
  startRad: number,
  sweepRad: number,
  map: Affine,
  fitMm: number,
): EntityPieces {
  const isClosed = Math.abs(sweepRad) >= 2 * Math.PI;
  if (!isSimilarity(map)) {
    const drawn = arcPieces(entity.centre, entity.radius, startRad, sweepRad);
    const { segments, deviationMm, problems } = fitted(
      drawn.map((s) => transformCurve(arcCurve(s), map)),
      [],
      fitMm,
    );
    return { segments, isClosed, deviationMm, problems };
  }
  const centre = transformPoint(entity.centre, map);
  const radiusMm = entity.radius * Math.sqrt(map.a * map.a + map.b * map.b);
  const isTurned = map.b !== 0 || map.c !== 0 || map.a <= 0 || map.d <= 0;
  const start = isTurned ? directionRad(transformVector(unitAt(startRad), map)) : startRad;
  return exact(arcPieces(centre, radiusMm, start, isMirroring(map) ? -sweepRad : sweepRad), isClosed);
}

function unitAt(angleRad: number): Point {
  return { x: Math.cos(angleRad), y: Math.sin(angleRad) };
}

function directionRad(v: Point): number {
  return Math.atan2(v.y, v.x);
}

function polylineOf(entity: DxfPolyline, map: Affine, fitMm: number): EntityPieces {
  const { vertices, isClosed } = entity;
  const isRound = isSimilarity(map);
  const side = isMirroring(map) ? -1 : 1;
  const count = isClosed ? vertices.length : vertices.length - 1;
  const segments: Segment[] = [];
  let deviationMm = 0;
  let from = transformPoint(vertices[0]!, map);
  const first = from;
  for (let i = 0; i < count; i++) {
    const v = vertices[i]!;
    const next = vertices[i + 1 === vertices.length ? 0 : i + 1]!;
    const to = i + 1 === vertices.length ? first : transformPoint(next, map);
    // Repeated vertices draw nothing, whatever their bulge.
    if (from.x === to.x && from.y === to.y) continue;
    if (v.bulge === 0 || isRound) {
      for (const s of bulgeSegments(from, to, v.bulge * side)) segments.push(s);
    } else {
      const arcs = bulgeSegments(v, next, v.bulge) as ArcSegment[];
      const found = fitted(
        arcs.map((s) => transformCurve(arcCurve(s), map)),
        [],
        fitMm,
      );
      for (const s of found.segments) segments.push(s);
      deviationMm = Math.max(deviationMm, found.deviationMm);
    }
    from = to;
  }
  return { segments, isClosed, deviationMm, problems: [] };
}

function ellipseOf(entity: DxfEllipse, map: Affine, fitMm: number): EntityPieces {
  const { centre, major, ratio, startRad, sweepRad } = entity;
  const isClosed = sweepRad >= 2 * Math.PI;
  const curve = ellipseCurve(centre, major, ratio, startRad, startRad + sweepRad);
  return { ...ofCurve(curve, map, fitMm), isClosed };
}
