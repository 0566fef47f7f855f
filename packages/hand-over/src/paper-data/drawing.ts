import type { JobRun } from '@gapwright/job';
import { type Drawing, wirePaths } from '@gapwright/papers';
import type { Plan, WireOperation } from '@gapwright/planning';

/** Above this many contours only the rough pass is drawn: more lines would be one black blot on paper. */
const MOST_CONTOURS_WITH_SKIMS = 60;

/** The set-up as a picture: part, wire centre of each pass, start holes, lead-ins, tabs, clamps, plate. */
export function drawingOf(run: JobRun, plan: Plan, operation: WireOperation): Drawing {
  const passes = plan.features.length > MOST_CONTOURS_WITH_SKIMS ? operation.passes.slice(0, 1) : operation.passes;
  const part = partDrawing(run, plan);
  const { contours } = part;
  return {
    ...part,
    passes: wirePaths(
      contours,
      passes.map((p) => ({ pass: p.pass, offsetMm: p.offsetMm.value })),
    ),
    leadIns: operation.steps.flatMap((s) =>
      s.kind === 'cut' && s.pass === 1 ? [{ feature: s.feature, path: s.leadIn }] : [],
    ),
    startHoles: operation.startHoles,
    tabs: operation.slugs.flatMap((s) =>
      s.tabFrom === null || s.tabTo === null ? [] : [{ feature: s.feature, from: s.tabFrom, to: s.tabTo }],
    ),
    keepOuts: operation.keepOuts,
    plate: operation.plate,
    datum: { x: 0, y: 0 },
  };
}

/** The part alone, for papers that leave the house, with the lines of layers that are not cut. */
export function partDrawing(run: JobRun, plan: Plan): Drawing {
  const { cutLayers } = plan.request;
  const references = (run.drawing.profile?.contours ?? []).filter(
    (c) => cutLayers !== undefined && !cutLayers.includes(c.layer) && c.contour.isClosed,
  );
  return {
    contours: plan.features.map((f) => ({ feature: f.id, role: f.role, contour: f.contour })),
    references: references.map((c) => c.contour),
  };
}
