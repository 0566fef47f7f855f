import type { DrawnFeature, SetUpFacts } from '@gapwright/program';
import type { Plan, WireOperation } from './plan.js';

/** A threading place outside the plate needs no hole; the proof is told one just as wide as the wire with this much air, mm. */
const EDGE_AIR_MM = 0.3;

/** What the set-up sheet of one wire operation states, for the proof of its program. */
export function proofSetupOf(
  plan: Plan,
  operation: WireOperation,
): { readonly setup: SetUpFacts; readonly features: readonly DrawnFeature[] } {
  const levels = new Map(operation.passes.map((p) => [p.level, p.gapMm.value]));
  const setup: SetUpFacts = {
    wireDiameterMm: operation.wireDiameterMm,
    heightMm: operation.burnHeightMm,
    levels: [...levels].map(([level, gapMm]) => ({ level, gapMm })),
    passes: operation.passes.map((p) => ({
      pass: p.pass,
      level: p.level,
      register: p.register,
      offsetMm: p.offsetMm.value,
      stockMm: p.stockMm.value,
      feedMmPerMin: p.feedMmPerMin.value,
    })),
    startHoles: operation.startHoles.map((h) => ({
      id: h.id,
      centre: h.at,
      diameterMm: h.fromEdge ? operation.wireDiameterMm + EDGE_AIR_MM : h.diameterMm,
    })),
    plate: operation.plate,
    keepOuts: operation.keepOuts,
    // Where zero lies in the machine is decided at the machine; travel was checked by size.
    travel: null,
    tabs: operation.slugs.flatMap((s) =>
      s.tabFrom === null || s.tabTo === null ? [] : [{ feature: s.feature, from: s.tabFrom, to: s.tabTo }],
    ),
    mayFallUnattended: operation.slugs.filter((s) => s.handling === 'falls free').map((s) => s.feature),
    toleranceMm: plan.request.toleranceMm,
    agreedCornerRadiusMm: operation.agreedCornerRadiusMm,
  };
  return { setup, features: drawnFeaturesOf(plan) };
}

/** The features of a plan as the proof takes them; a plan without operations has them too. */
export function drawnFeaturesOf(plan: Plan): DrawnFeature[] {
  return plan.features.map(({ id, role, contour, partSide }) => ({
    id,
    kind: role,
    contour,
    ...(partSide === undefined ? {} : { partSide }),
  }));
}
