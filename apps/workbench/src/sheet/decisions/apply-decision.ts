import type { Decision, DraftJob } from '@gapwright/job';
import type { WireOverrides } from '@gapwright/planning';

/** What a planner decided: the value of the decision's own input. */
export type Decided =
  | string
  | number
  | readonly string[]
  | readonly number[]
  | { readonly x: number; readonly y: number };

/** Fields of the job that hold a decision as they are. */
const OWN_FIELDS = new Set(['wire', 'machine', 'stack', 'agreedCornerRadiusMm']);

/** The draft with a decision overruled. */
export function decide(draft: DraftJob, decision: Decision, value: Decided): DraftJob {
  const { id } = decision;
  if (OWN_FIELDS.has(id)) return { ...draft, [id]: value };
  if (id === 'unitPrice') return { ...draft, offer: { ...draft.offer, unitPrice: value as number } };
  return withOverrides(draft, (o) => overruled(o, id, value));
}

/** The draft without the planner's own choice. */
export function backToComputed(draft: DraftJob, { id }: Decision): DraftJob {
  if (OWN_FIELDS.has(id)) {
    const { [id as 'wire']: _own, ...rest } = draft;
    return rest;
  }
  if (id === 'unitPrice') {
    const { unitPrice: _own, ...rest } = draft.offer ?? {};
    const { offer: _offer, ...others } = draft;
    return Object.keys(rest).length === 0 ? others : { ...others, offer: rest };
  }
  return withOverrides(draft, (o) => computed(o, id));
}

/** Overrides kept by feature: the word before the colon of the decision's id, and the field that holds them. */
const BY_FEATURE = { startHole: 'startHoles', slug: 'slugHandling', tab: 'tabMm' } as const;
const WHOLE = { passes: 'passLevels', order: 'order' } as const;

function overruled(overrides: WireOverrides, id: string, value: Decided): WireOverrides {
  if (id in WHOLE) return { ...overrides, [WHOLE[id as keyof typeof WHOLE]]: value };
  const [kind, feature] = parted(id);
  const field = BY_FEATURE[kind];
  return { ...overrides, [field]: { ...overrides[field], [feature]: value } };
}

function computed(overrides: WireOverrides, id: string): WireOverrides {
  if (id in WHOLE) {
    const { [WHOLE[id as keyof typeof WHOLE]]: _own, ...rest } = overrides;
    return rest;
  }
  const [kind, feature] = parted(id);
  const field = BY_FEATURE[kind];
  const { [feature]: _own, ...others } = (overrides[field] ?? {}) as Record<string, unknown>;
  const { [field]: _field, ...rest } = overrides;
  return Object.keys(others).length === 0 ? rest : { ...rest, [field]: others };
}

function parted(id: string): readonly [keyof typeof BY_FEATURE, string] {
  const at = id.indexOf(':');
  const kind = id.slice(0, at);
  if (!(kind in BY_FEATURE)) throw new Error(`decision "${id}" has no place in a job`);
  return [kind as keyof typeof BY_FEATURE, id.slice(at + 1)];
}

function withOverrides(draft: DraftJob, change: (overrides: WireOverrides) => WireOverrides): DraftJob {
  const { overrides, ...rest } = draft;
  const next = change((overrides ?? {}) as WireOverrides);
  return Object.keys(next).length === 0 ? rest : ({ ...rest, overrides: next } as DraftJob);
}
