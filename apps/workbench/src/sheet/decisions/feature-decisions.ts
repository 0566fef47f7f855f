import type { Decision } from '@gapwright/job';

/** Decisions of one operation, by where they are taken. */
export interface PlacedDecisions {
  /** Of the operation as a whole. */
  readonly whole: readonly Decision[];
  /** Of single features, by the decision's id. */
  readonly byId: ReadonlyMap<string, Decision>;
}

export function placedDecisions(decisions: readonly Decision[]): PlacedDecisions {
  return {
    whole: decisions.filter((d) => d.feature === null),
    byId: new Map(decisions.filter((d) => d.feature !== null).map((d) => [d.id, d])),
  };
}

/** The decisions of these kinds on these features, e.g. `slug` and `tab` of `F2`. */
export function decisionsOn(
  placed: PlacedDecisions,
  kinds: readonly string[],
  features: readonly string[],
): readonly Decision[] {
  return features.flatMap((f) => kinds.flatMap((k) => placed.byId.get(`${k}:${f}`) ?? []));
}
