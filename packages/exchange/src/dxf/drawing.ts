import type { Point } from '@gapwright/geometry';

/** What every drawn entity carries. Coordinates are in drawing units, in the drawing's plane (world x and y). */
export interface EntityPlace {
  readonly layer: string;
  readonly handle: string | null;
  /** Line of the file (byte, for a binary one) where the entity starts. */
  readonly position: number;
}

export interface DxfLine extends EntityPlace {
  readonly kind: 'line';
  readonly from: Point;
  readonly to: Point;
}

/** A circular arc; `sweepRad` is signed, counter-clockwise positive, up to a full turn in size. */
export interface DxfArc extends EntityPlace {
  readonly kind: 'arc';
  readonly centre: Point;
  readonly radius: number;
  readonly startRad: number;
  readonly sweepRad: number;
}

export interface DxfCircle extends EntityPlace {
  readonly kind: 'circle';
  readonly centre: Point;
  readonly radius: number;
}

/** Bulge is tan(sweep / 4) of the piece that leaves the vertex, counter-clockwise positive. */
export interface DxfVertex {
  readonly x: number;
  readonly y: number;
  readonly bulge: number;
}

export interface DxfPolyline extends EntityPlace {
  readonly kind: 'polyline';
  readonly vertices: readonly DxfVertex[];
  readonly isClosed: boolean;
}

/**
 * centre + cos(u) · major + sin(u) · minor for u from `startRad` over `sweepRad` (above 0, up to a full turn). The minor
 * half axis is the major one turned a quarter turn to the left, times `ratio`; a negative ratio is an ellipse seen from behind.
 */
export interface DxfEllipse extends EntityPlace {
  readonly kind: 'ellipse';
  readonly centre: Point;
  readonly major: Point;
  readonly ratio: number;
  readonly startRad: number;
  readonly sweepRad: number;
}

/**
 * A NURBS curve; without weights it is not rational. `knots.length` is `controlPoints.length + degree + 1`, or, for a
 * periodic spline given by one period, `controlPoints.length + 1`.
 */
export interface DxfSpline extends EntityPlace {
  readonly kind: 'spline';
  readonly degree: number;
  readonly knots: readonly number[];
  readonly controlPoints: readonly Point[];
  readonly weights: readonly number[] | null;
  readonly isClosed: boolean;
  readonly isPeriodic: boolean;
}

/** A spline of which the file holds only points to pass through. Tangents give directions of travel at its ends. */
export interface DxfFitSpline extends EntityPlace {
  readonly kind: 'fit-spline';
  readonly points: readonly Point[];
  readonly startTangent: Point | null;
  readonly endTangent: Point | null;
  readonly isClosed: boolean;
}

/** A block placed once or in rows and columns. The steps of the array turn with `rotationRad` but do not scale. */
export interface DxfInsert extends EntityPlace {
  readonly kind: 'insert';
  readonly block: string;
  readonly at: Point;
  readonly scaleX: number;
  readonly scaleY: number;
  readonly rotationRad: number;
  readonly columns: number;
  readonly rows: number;
  readonly columnStep: number;
  readonly rowStep: number;
  /** True when the whole insert is seen from behind (extrusion 0, 0, -1): world x is minus its own x. */
  readonly isMirrored: boolean;
}

export type DxfEntity = DxfLine | DxfArc | DxfCircle | DxfPolyline | DxfEllipse | DxfSpline | DxfFitSpline | DxfInsert;

export interface DxfLayer {
  readonly name: string;
  readonly isFrozen: boolean;
  readonly isOff: boolean;
  readonly isLocked: boolean;
  /** Colour index 1 to 255; 7 is black or white. */
  readonly colour: number;
  readonly lineType: string;
}

export interface DxfBlock {
  readonly name: string;
  readonly base: Point;
  /** True when the content lies in another file. */
  readonly isExternal: boolean;
  readonly entities: readonly DxfEntity[];
  readonly skipped: readonly SkippedEntities[];
}

/** Entities of one kind on one layer that were not taken, with the reason. */
export interface SkippedEntities {
  /** Kind as the file writes it, e.g. `HATCH`. */
  readonly kind: string;
  readonly layer: string;
  readonly reason: string;
  readonly count: number;
  /** Handle of the first one, if it has one. */
  readonly handle: string | null;
  /** Line (byte, for a binary file) of the first one. */
  readonly position: number;
}

/** A DXF file as it stands: drawing units, nothing expanded, nothing scaled, hidden layers still in. */
export interface DxfDrawing {
  readonly fileName: string | null;
  readonly isBinary: boolean;
  /** Version code such as `AC1032`; null when the file does not say. */
  readonly version: string | null;
  readonly codePage: string | null;
  /** $INSUNITS; null when the file does not say. 1 inch, 2 feet, 4 mm, 5 cm, 6 m, 0 none. */
  readonly insertUnits: number | null;
  /** $MEASUREMENT: 0 inches, 1 metric; null when the file does not say. */
  readonly measurement: number | null;
  readonly layers: readonly DxfLayer[];
  readonly blocks: readonly DxfBlock[];
  /** Drawn entities of the model space in file order. */
  readonly entities: readonly DxfEntity[];
  readonly skipped: readonly SkippedEntities[];
}

/** Names of layers and blocks are the same when they differ only in case. */
export function nameKey(name: string): string {
  return name.toUpperCase();
}
