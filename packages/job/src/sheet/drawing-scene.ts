import type { Problem } from '@gapwright/base';
import type { Box } from '@gapwright/geometry';
import type { Plan } from '@gapwright/planning';
import type { DrawingRun } from '../read-drawing.js';
import { boxOfPaths, packPaths } from './pack-paths.js';
import type { Scene, SceneLayer, SceneLayerKind, SceneMark } from './scene.js';

interface NamedPath {
  readonly kind: SceneLayerKind;
  readonly name: string;
  readonly segments: Parameters<typeof packPaths>[0][number]['segments'];
  readonly isClosed: boolean;
}

const NOWHERE: Box = { minX: 0, minY: 0, maxX: 0, maxY: 0 };

/**
 * The lines of a drawing: what is cut as `part`, other layers as `reference`, contours that do not close as `open end`.
 * Before there is a plan, contours have no feature name (``).
 */
export function drawingScene(run: DrawingRun, cutLayers: readonly string[] | undefined): Scene {
  const lines = (run.profile?.contours ?? []).map(({ contour, layer }): NamedPath => {
    const isCut = cutLayers === undefined || cutLayers.includes(layer);
    const kind = !isCut ? 'reference' : contour.isClosed ? 'part' : 'open end';
    return { kind, name: isCut ? '' : layer, segments: contour.segments, isClosed: contour.isClosed };
  });
  return {
    boxMm: run.profile?.boxMm ?? boxOfPaths(lines) ?? NOWHERE,
    layers: layersOf(lines),
    marks: problemMarks(run.problems),
    bands: [],
    walks: [],
  };
}

/** The lines of a drawing once its features have names. */
export function featureLayers(run: DrawingRun, plan: Plan): SceneLayer[] {
  const { cutLayers } = plan.request;
  const features = plan.features.map(
    ({ id, contour }): NamedPath => ({
      kind: 'part',
      name: id,
      segments: contour.segments,
      isClosed: contour.isClosed,
    }),
  );
  const references = (run.profile?.contours ?? [])
    .filter((c) => cutLayers !== undefined && !cutLayers.includes(c.layer))
    .map(
      ({ contour, layer }): NamedPath => ({
        kind: 'reference',
        name: layer,
        segments: contour.segments,
        isClosed: contour.isClosed,
      }),
    );
  return layersOf([...features, ...references]);
}

function layersOf(lines: readonly NamedPath[]): SceneLayer[] {
  const kinds: readonly SceneLayerKind[] = ['reference', 'part', 'open end'];
  return kinds.flatMap((kind) => {
    const own = lines.filter((l) => l.kind === kind);
    return own.length === 0 ? [] : [{ kind, paths: packPaths(own), names: own.map((l) => l.name) }];
  });
}

/** Problems that have a place, as marks on the drawing. */
export function problemMarks(problems: readonly Problem[]): SceneMark[] {
  return problems.flatMap((p): SceneMark[] => {
    const { at } = p;
    if (at?.xMm === undefined || at.yMm === undefined) return [];
    return [{ kind: 'problem', label: p.message, at: { x: at.xMm, y: at.yMm }, code: p.code, severity: p.severity }];
  });
}
