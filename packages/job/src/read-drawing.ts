import { hasStop, type Problem, type Result } from '@gapwright/base';
import {
  type DrawingUnits,
  type DxfDrawing,
  type ProfileDrawing,
  profileFromDrawing,
  readDxf,
} from '@gapwright/exchange';
import { areaMm2, type Contour, insideCorners, nestContours, orient, type Region } from '@gapwright/geometry';

/** A drawing file as bytes. Engines read no files; the doors do. */
export interface DrawingFile {
  readonly bytes: Uint8Array;
  readonly fileName: string;
}

export interface ReadDrawingOptions {
  readonly units?: DrawingUnits;
  readonly joinMm?: number;
  readonly fitMm?: number;
  /** Layers to read; all visible ones when absent. */
  readonly layers?: readonly string[];
}

/** A contour of the drawing with its role and what limits a wire along it. */
export interface ReadContour {
  readonly contour: Contour;
  readonly layer: string;
  readonly role: 'outline' | 'opening' | 'open';
  readonly minInsideRadiusMm: number | null;
  readonly sharpInsideCorners: number;
  readonly fittedDeviationMm: number;
}

/** What became of a drawing file. `profile` is null when a stop problem prevented it. */
export interface DrawingRun {
  readonly drawing: DxfDrawing | null;
  readonly profile: ProfileDrawing | null;
  readonly contours: readonly ReadContour[];
  readonly problems: readonly Problem[];
  /** True when the file itself could not be read: the user must give another one. */
  readonly isBroken: boolean;
}

/** What a drawing file holds before its contours are measured. */
export type DrawingLines = Omit<DrawingRun, 'contours'>;

/** Reads a DXF file and measures its contours. */
export function readDrawing(file: DrawingFile, options: ReadDrawingOptions = {}): DrawingRun {
  return measureLines(readLines(readDxf(file.bytes, { fileName: file.fileName }), options));
}

/** Makes contours of what a DXF file holds. */
export function readLines({ value: drawing, problems }: Result<DxfDrawing>, options: ReadDrawingOptions): DrawingLines {
  if (drawing === null) return { drawing: null, profile: null, problems, isBroken: true };
  const { value: profile, problems: more } = profileFromDrawing(drawing, options);
  return { drawing, profile, problems: [...problems, ...more], isBroken: false };
}

/** Nests the contours and measures what limits a wire along each. */
export function measureLines(lines: DrawingLines): DrawingRun {
  if (lines.profile === null) return { ...lines, contours: [] };
  const { contours, problems } = measure(lines.profile);
  return { ...lines, contours, problems: [...lines.problems, ...problems] };
}

/** True when the drawing may be planned: it has contours and no problem stops it. */
export function isPlannable(run: DrawingRun): boolean {
  return run.profile !== null && !hasStop(run.problems);
}

function measure(profile: ProfileDrawing): { contours: ReadContour[]; problems: readonly Problem[] } {
  const closed = profile.contours.filter((c) => c.contour.isClosed).map((c) => c.contour);
  const nesting = nestContours(closed);
  const openings = new Set<Contour>();
  const visit = (region: Region): void => {
    if (region.isOpening) openings.add(closed[region.outer]!);
    region.holes.forEach(visit);
  };
  nesting.regions.forEach(visit);
  const contours = profile.contours.map(({ contour, layer, fittedDeviationMm }): ReadContour => {
    if (!contour.isClosed) {
      return { contour, layer, role: 'open', minInsideRadiusMm: null, sharpInsideCorners: 0, fittedDeviationMm };
    }
    const role = openings.has(contour) ? 'opening' : 'outline';
    // Passages between walls are looked for by planning; on a contour of many thousand segments they take long.
    // The part is left of a counter-clockwise outline and of a clockwise opening, so the wire runs on the right.
    const access = insideCorners(orient(contour, role === 'outline'), 'right');
    return {
      contour,
      layer,
      role,
      minInsideRadiusMm: access.minInsideRadiusMm,
      sharpInsideCorners: access.sharpInsideCorners.length,
      fittedDeviationMm,
    };
  });
  return { contours, problems: nesting.problems };
}

/** Enclosed area of a contour without its sign, mm². */
export function enclosedAreaMm2(c: Contour): number {
  return Math.abs(areaMm2(c));
}
