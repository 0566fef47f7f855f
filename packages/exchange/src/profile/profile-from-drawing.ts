import { DEFAULT_FIT_MM, hasStop, type Problem, type Result } from '@gapwright/base';
import {
  CHAIN_OPTIONS,
  chainSegments,
  contour,
  contourBox,
  type LoosePiece,
  scaling,
  unionBox,
} from '@gapwright/geometry';
import { type DxfDrawing, nameKey } from '../dxf/drawing.js';
import { contourProblems, crossingProblems, nothingToCut, reachProblem, sizeProblem } from './contour-problems.js';
import { expandDrawing, type PlacedEntity } from './expand.js';
import { nearDuplicates } from './near-duplicates.js';
import { entityPieces } from './pieces.js';
import type { DrawingRepair, ProfileContour, ProfileDrawing } from './profile-drawing.js';
import { reachMm } from './reach.js';
import { tangleProblem } from './tangle.js';
import { type DrawingUnits, MM_PER_UNIT, resolveUnits } from './units.js';

export interface ProfileOptions {
  /** Units of the drawing; they win over what the file says. */
  readonly units?: DrawingUnits;
  /** Gaps up to this are closed and listed, mm; wider ones stay open. */
  readonly joinMm?: number;
  /** Largest deviation when splines, ellipses and stretched arcs are fitted by arcs, mm. */
  readonly fitMm?: number;
  /** Layers to take; all visible ones when not given. */
  readonly layers?: readonly string[];
}

interface Tag {
  readonly handle: string | null;
  readonly deviationMm: number;
}

/**
 * The contours of a drawing: scaled to mm, blocks placed, curves fitted, pieces chained layer by layer. Lines and arcs
 * stay exact. A contour that crosses itself is a stop problem, but the contours are still given, to be looked at. No
 * contours come with `DXF-UNITS-UNKNOWN`, `DXF-TOO-MANY-COPIES`, `DXF-NOTHING-TO-CUT`, `DXF-TOO-LARGE`,
 * `DXF-TOO-TANGLED` or what the geometry room finds wrong with a spline.
 */
export function profileFromDrawing(drawing: DxfDrawing, options: ProfileOptions = {}): Result<ProfileDrawing> {
  const units = resolveUnits(drawing, options.units);
  if ('problem' in units) return { value: null, problems: [units.problem] };
  const root = scaling(MM_PER_UNIT[units.units]);
  const expansion = expandDrawing(drawing, root, options.layers ?? null);
  if (expansion.stop !== null) return { value: null, problems: [expansion.stop] };
  const { placed, skipped } = expansion;
  const problems: Problem[] = [...units.problems];
  if (placed.length === 0) return { value: null, problems: [...problems, nothingToCut(drawing, skipped)] };

  const reach = placed.reduce((most, { entity, map }) => Math.max(most, reachMm(entity, map)), 0);
  const tooLarge = reachProblem(reach, units.units);
  if (tooLarge !== null) return { value: null, problems: [...problems, tooLarge] };

  const { mergeMm } = CHAIN_OPTIONS;
  // Ends within rounding of each other are one point whatever is asked for.
  const joinMm = Math.max(mergeMm, options.joinMm ?? CHAIN_OPTIONS.joinMm);
  const contours: ProfileContour[] = [];
  const repairs: DrawingRepair[] = [];
  for (const [layer, pieces] of loosePieces(placed, options.fitMm ?? DEFAULT_FIT_MM, problems)) {
    const tangle = tangleProblem(pieces.flatMap((p) => p.segments));
    if (tangle !== null) return { value: null, problems: [...problems, { ...tangle, at: { layer } }] };
    const chained = chainSegments(pieces, { mergeMm, joinMm });
    for (const p of chained.problems) problems.push({ ...p, at: { ...p.at, layer } });
    for (const { kind, at, sizeMm, tags } of chained.repairs) {
      repairs.push({ kind, at, sizeMm, layer, handles: handlesOf(tags) });
    }
    for (const c of chained.contours) {
      const fittedDeviationMm = c.tags.reduce((most, t) => Math.max(most, t.deviationMm), 0);
      const handles = handlesOf(c.tags);
      contours.push({ contour: contour(c.segments, c.isClosed), layer, handles, fittedDeviationMm });
    }
  }
  if (hasStop(problems)) return { value: null, problems };
  if (contours.length === 0) return { value: null, problems: [...problems, nothingToCut(drawing, skipped)] };

  const boxMm = contours.map((c) => contourBox(c.contour)).reduce(unionBox);
  const largestFitDeviationMm = contours.reduce((most, c) => Math.max(most, c.fittedDeviationMm), 0);
  problems.push(...sizeProblem(boxMm, units.units));
  const crossings = crossingProblems(contours, mergeMm);
  problems.push(...crossings);
  if (crossings.some((p) => p.code === 'DXF-TOO-TANGLED')) return { value: null, problems };
  problems.push(...contourProblems(contours), ...nearDuplicates(contours, joinMm));
  const value: ProfileDrawing = {
    units: units.units,
    unitsAssumed: units.isAssumed,
    contours,
    repairs,
    skipped,
    largestFitDeviationMm,
    boxMm,
  };
  return { value, problems };
}

/** The placed entities as pieces in mm, by layer in order of appearance. */
function loosePieces(
  placed: readonly PlacedEntity[],
  fitMm: number,
  problems: Problem[],
): Map<string, LoosePiece<Tag>[]> {
  const byKey = new Map<string, { layer: string; pieces: LoosePiece<Tag>[] }>();
  for (const { entity, layer, map } of placed) {
    const { segments, deviationMm, problems: found } = entityPieces(entity, map, fitMm);
    const place = { layer, ...(entity.handle === null ? {} : { handle: entity.handle }) };
    for (const p of found) problems.push({ ...p, at: { ...p.at, ...place } });
    const key = nameKey(layer);
    let group = byKey.get(key);
    if (group === undefined) {
      group = { layer, pieces: [] };
      byKey.set(key, group);
    }
    group.pieces.push({ segments, tag: { handle: entity.handle, deviationMm } });
  }
  return new Map([...byKey.values()].map(({ layer, pieces }) => [layer, pieces]));
}

function handlesOf(tags: readonly Tag[]): string[] {
  const handles = new Set<string>();
  for (const { handle } of tags) if (handle !== null) handles.add(handle);
  return [...handles];
}
