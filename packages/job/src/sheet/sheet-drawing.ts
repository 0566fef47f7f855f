import { type Contour, lengthMm, reverseSegment, type Segment } from '@gapwright/geometry';
import type { Plan } from '@gapwright/planning';
import { type DrawingRun, enclosedAreaMm2 } from '../read-drawing.js';
import type { SheetDrawing } from './sheet-answer.js';

/** What was read, for the sheet. `plan` names the contours that are cut; null before there is one. */
export function sheetDrawing(
  run: DrawingRun,
  fileName: string,
  cutLayers: readonly string[] | undefined,
  plan: Plan | null,
): SheetDrawing {
  const { profile, drawing } = run;
  const perLayer = new Map<string, number>();
  for (const { layer } of profile?.contours ?? []) perLayer.set(layer, (perLayer.get(layer) ?? 0) + 1);
  const isCut = (layer: string): boolean => cutLayers === undefined || cutLayers.includes(layer);
  const featureOf = featureFinder(plan);
  return {
    fileName,
    units: profile?.units ?? 'unknown',
    unitsAssumed: profile?.unitsAssumed ?? false,
    boxMm: profile?.boxMm ?? null,
    layers: layerNames(run, perLayer).map((name) => ({
      name,
      contours: perLayer.get(name) ?? 0,
      isRead: perLayer.has(name),
      isCut: perLayer.has(name) && isCut(name),
    })),
    contours: run.contours.map((c) => ({
      feature: isCut(c.layer) ? featureOf(c.contour) : null,
      role: c.role,
      layer: c.layer,
      segments: c.contour.segments.length,
      lengthMm: lengthMm(c.contour),
      areaMm2: enclosedAreaMm2(c.contour),
      minInsideRadiusMm: c.minInsideRadiusMm,
      sharpInsideCorners: c.sharpInsideCorners,
    })),
    repairs: (profile?.repairs ?? []).map((r) => ({
      says: `${r.kind}: ${(r.sizeMm * 1000).toFixed(1)} µm on layer ${r.layer}`,
      xMm: r.at.x,
      yMm: r.at.y,
    })),
    skipped: (profile?.skipped ?? drawing?.skipped ?? []).map((s) => ({
      says: `${s.kind} on layer ${s.layer}: ${s.reason}`,
      count: s.count,
    })),
    largestFitDeviationMm: profile?.largestFitDeviationMm ?? 0,
  };
}

/** Finds the feature made of a contour of the drawing; planning may have turned it round. */
function featureFinder(plan: Plan | null): (contour: Contour) => string | null {
  const waiting = new Map<string, string[]>();
  for (const { id, contour } of plan?.features ?? []) {
    const first = contour.segments[0];
    if (first === undefined) continue;
    const key = endsKey(contour.segments.length, first);
    waiting.set(key, [...(waiting.get(key) ?? []), id]);
  }
  // Contours that lie on each other share a key and get their names in turn.
  return ({ segments }) => {
    const [first, last] = [segments[0], segments.at(-1)];
    if (first === undefined || last === undefined) return null;
    const asDrawn = waiting.get(endsKey(segments.length, first))?.shift();
    return asDrawn ?? waiting.get(endsKey(segments.length, reverseSegment(last)))?.shift() ?? null;
  };
}

function endsKey(count: number, { from, to }: Segment): string {
  return `${count} ${from.x} ${from.y} ${to.x} ${to.y}`;
}

/** Layers of the file first, in its order; then those that only entities name. */
function layerNames(run: DrawingRun, perLayer: ReadonlyMap<string, number>): string[] {
  return [...new Set([...(run.drawing?.layers ?? []).map((l) => l.name), ...perLayer.keys()])];
}
