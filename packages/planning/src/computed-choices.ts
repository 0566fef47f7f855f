import type { ComputedChoices, SlugHandling, StartHole, StartHolePlace, WireOperation } from './plan.js';

/** The choices of an operation that was planned with nothing overruled. */
export function choicesOf(operation: WireOperation): ComputedChoices {
  const startHoles: Record<string, StartHolePlace> = {};
  for (const hole of operation.startHoles) for (const id of hole.features) startHoles[id] = holePlace(hole);
  const slugHandling: Record<string, SlugHandling> = {};
  const tabMm: Record<string, number> = {};
  for (const slug of operation.slugs) {
    slugHandling[slug.feature] = slug.handling;
    if (slug.tabMm !== null) tabMm[slug.feature] = slug.tabMm.value;
  }
  return {
    operation: operation.number,
    passLevels: operation.passes.map((p) => p.level),
    startHoles,
    slugHandling,
    tabMm,
    order: orderOf(operation.steps),
  };
}

export function holePlace({
  at,
  diameterMm,
  fromEdge,
}: Pick<StartHole, 'at' | 'diameterMm' | 'fromEdge'>): StartHolePlace {
  return fromEdge ? { x: at.x, y: at.y, fromEdge } : { x: at.x, y: at.y, diameterMm };
}

/** Features in the order in which they are first cut. */
export function orderOf(steps: WireOperation['steps']): string[] {
  const seen = new Set<string>();
  for (const step of steps) if (step.kind === 'cut') seen.add(step.feature);
  return [...seen];
}
