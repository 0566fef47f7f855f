import { type Problem, problem, type Result } from '@gapwright/base';
import { type Contour, distanceMm, type Segment } from '@gapwright/geometry';
import { DxfWriter, LWPolylineFlags, point2d, point3d, Units } from '@tarikjabiri/dxf';
import { printable } from '../dxf/text-tags.js';

/** Contours, mm, that go to one layer of a file. */
export interface OutputLayer {
  readonly name: string;
  /** Colour index 1 to 255; 7 is black or white. */
  readonly colour?: number;
  readonly contours: readonly Contour[];
}

/** Characters that a layer name must not hold, by the DXF reference. */
const FORBIDDEN_IN_NAMES = /[<>/\\":;?*|=`]/;

/** Two centres or radii nearer than this, mm, belong to one circle: rounding of the two halves of a full turn. */
const SAME_CIRCLE_MM = 1e-9;

/** A sweep this near to a full turn, rad, is one. */
const FULL_TURN_SLACK_RAD = 1e-9;

/**
 * Writes contours as a DXF text in mm: a CIRCLE for a full circle, a polyline with bulges for all else. Every number
 * is written so that it reads back to the same double. Stops with `DXF-LAYER-NAME`, `DXF-LAYER-TWICE` or
 * `DXF-NOT-FINITE`.
 */
export function writeDxf(layers: readonly OutputLayer[]): Result<string> {
  const problems = checkLayers(layers);
  if (problems.length > 0) return { value: null, problems };
  const writer = new DxfWriter();
  writer.setUnits(Units.Millimeters);
  for (const layer of layers) {
    // Layer 0 is in every file already.
    if (layer.name !== '0') writer.addLayer(layer.name, layer.colour ?? 7);
    for (const c of layer.contours) writeContour(writer, c, layer.name);
  }
  return { value: `${writer.stringify()}\n`, problems: [] };
}

function writeContour(writer: DxfWriter, c: Contour, layerName: string): void {
  const circle = asCircle(c);
  if (circle !== null) {
    writer.addCircle(point3d(circle.x, circle.y), circle.radiusMm, { layerName });
    return;
  }
  const vertices = c.segments.map((s) => ({ point: point2d(s.from.x, s.from.y), bulge: bulgeOf(s) }));
  const last = c.segments.at(-1);
  if (last === undefined) return;
  if (!c.isClosed) vertices.push({ point: point2d(last.to.x, last.to.y), bulge: 0 });
  writer.addLWPolyline(vertices, { layerName, flags: c.isClosed ? LWPolylineFlags.Closed : LWPolylineFlags.None });
}

function bulgeOf(s: Segment): number {
  return s.kind === 'line' ? 0 : Math.tan(s.sweepRad / 4);
}

function asCircle(c: Contour): { x: number; y: number; radiusMm: number } | null {
  const first = c.segments[0];
  if (!c.isClosed || first?.kind !== 'arc') return null;
  let sweepRad = 0;
  for (const s of c.segments) {
    if (s.kind !== 'arc') return null;
    if (distanceMm(s.centre, first.centre) > SAME_CIRCLE_MM) return null;
    if (Math.abs(s.radiusMm - first.radiusMm) > SAME_CIRCLE_MM) return null;
    sweepRad += s.sweepRad;
  }
  if (Math.abs(Math.abs(sweepRad) - 2 * Math.PI) > FULL_TURN_SLACK_RAD) return null;
  return { ...first.centre, radiusMm: first.radiusMm };
}

function checkLayers(layers: readonly OutputLayer[]): Problem[] {
  const problems: Problem[] = [];
  const seen = new Set<string>();
  for (const { name, contours } of layers) {
    const stop = (code: string, what: string, fix: string): void => {
      problems.push(problem({ code, severity: 'stop', what, fix, at: { layer: name } }));
    };
    if (name.trim() === '' || FORBIDDEN_IN_NAMES.test(name) || printable(name) !== name) {
      stop(
        'DXF-LAYER-NAME',
        `"${name}" cannot be the name of a layer in a DXF file`,
        'Use a name without < > / \\ " : ; ? * | = and `',
      );
    }
    if (seen.has(name.toUpperCase())) {
      stop('DXF-LAYER-TWICE', `The layer "${name}" is given twice`, 'Put its contours together');
    }
    seen.add(name.toUpperCase());
    if (!contours.every((c) => c.segments.every(isSound))) {
      stop('DXF-NOT-FINITE', `A contour on layer "${name}" has a coordinate that is not a number`, 'Mend the contour');
    }
  }
  return problems;
}

function isSound(s: Segment): boolean {
  const own = s.from.x + s.from.y + s.to.x + s.to.y;
  return Number.isFinite(s.kind === 'line' ? own : own + s.centre.x + s.centre.y + s.radiusMm + s.sweepRad);
}
