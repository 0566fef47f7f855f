import { offsetContour, type Point } from '@gapwright/geometry';
import type { Plan, WireFeature, WireOperation } from '@gapwright/planning';
import { wireOperationsOf } from '../run-job.js';
import { type LoosePath, packPaths } from './pack-paths.js';
import type { SceneLayer, SceneMark } from './scene.js';

/** Ways of the wire's centre along one feature at one offset, kept because what-ifs mostly leave them alone. */
export type OffsetWays = (feature: WireFeature, offsetMm: number) => readonly LoosePath[];

/** Ways of the wire's centre per pass and the lead-ins, for all wire operations. */
export function passLayers(plan: Plan, ways: OffsetWays = offsetWays): SceneLayer[] {
  return wireOperationsOf(plan).flatMap((operation) => [
    ...operation.passes.map((p) => passLayer(plan, operation, p.pass, p.offsetMm.value, ways)),
    ...leadInLayers(operation),
  ]);
}

/** Planned features have the part left of travel, so the wire runs on the right. */
export function offsetWays(feature: WireFeature, offsetMm: number): readonly LoosePath[] {
  return offsetContour(feature.contour, -offsetMm);
}

function passLayer(plan: Plan, operation: WireOperation, pass: number, offsetMm: number, ways: OffsetWays): SceneLayer {
  const cut = new Set(operation.steps.flatMap((s) => (s.kind === 'cut' ? [s.feature] : [])));
  const paths: LoosePath[] = [];
  const names: string[] = [];
  for (const feature of plan.features) {
    if (!cut.has(feature.id)) continue;
    for (const way of ways(feature, offsetMm)) {
      paths.push(way);
      names.push(feature.id);
    }
  }
  return { kind: 'pass', pass, operation: operation.number, paths: packPaths(paths), names };
}

function leadInLayers(operation: WireOperation): SceneLayer[] {
  const cuts = operation.steps.flatMap((s) => (s.kind === 'cut' && s.leadIn.length > 0 ? [s] : []));
  return operation.passes.flatMap(({ pass }): SceneLayer[] => {
    const own = cuts.filter((c) => c.pass === pass);
    if (own.length === 0) return [];
    const paths = packPaths(own.map((c) => ({ segments: c.leadIn, isClosed: false })));
    return [{ kind: 'lead-in', pass, operation: operation.number, paths, names: own.map((c) => c.feature) }];
  });
}

/** Start holes, tabs, clamps, plate, zero and the names of the features. */
export function planMarks(plan: Plan): SceneMark[] {
  const marks: SceneMark[] = plan.features.map((f) => ({
    kind: 'feature',
    label: f.id,
    feature: f.id,
    at: f.contour.segments[0]?.from ?? ORIGIN,
  }));
  const [first] = wireOperationsOf(plan);
  if (first !== undefined) {
    marks.push({ kind: 'plate', label: 'Plate', box: first.plate });
    for (const k of first.keepOuts) marks.push({ kind: 'keep-out', label: k.label, box: k.box });
    marks.push({ kind: 'datum', label: 'Datum', at: ORIGIN });
    for (const h of first.startHoles) {
      marks.push({
        kind: 'start hole',
        label: h.fromEdge ? `${h.id} from the edge` : h.id,
        at: h.at,
        diameterMm: h.diameterMm,
        features: h.features,
        fromEdge: h.fromEdge,
      });
    }
    for (const s of first.slugs) {
      if (s.tabFrom === null || s.tabTo === null) continue;
      marks.push({ kind: 'tab', label: `Tab ${s.feature}`, feature: s.feature, from: s.tabFrom, to: s.tabTo });
    }
  }
  return marks;
}

const ORIGIN: Point = { x: 0, y: 0 };
