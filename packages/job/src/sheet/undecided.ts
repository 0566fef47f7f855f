import type { DraftJob } from './draft-job.js';

type Overrides = NonNullable<DraftJob['overrides']>;

/** Decisions kept in a field of the draft under their own name. */
const OWN_FIELDS = ['wire', 'machine', 'stack', 'agreedCornerRadiusMm'] as const;

/** Decisions kept for the whole work, and by feature (`slug:F2`). */
const WHOLE = { passes: 'passLevels', order: 'order' } as const;
const BY_FEATURE = { startHole: 'startHoles', slug: 'slugHandling', tab: 'tabMm' } as const;

/** Ids of the decisions the planner took in place of the plan, in the order they are shown. */
export function overruledIds(draft: DraftJob): string[] {
  const out: string[] = OWN_FIELDS.filter((id) => draft[id] !== undefined);
  const { overrides } = draft;
  for (const [id, field] of Object.entries(WHOLE)) if (overrides?.[field] !== undefined) out.push(id);
  for (const [kind, field] of Object.entries(BY_FEATURE)) {
    for (const feature of Object.keys(overrides?.[field] ?? {})) out.push(`${kind}:${feature}`);
  }
  if (draft.offer?.unitPrice !== undefined) out.push('unitPrice');
  return out;
}

/** The draft with one decision left to the plan again; ids as in {@link overruledIds}. */
export function undecided(draft: DraftJob, id: string): DraftJob {
  if (OWN_FIELDS.some((field) => field === id)) return without(draft, id as keyof DraftJob);
  if (id === 'unitPrice') {
    const offer = without(draft.offer ?? {}, 'unitPrice');
    const rest = without(draft, 'offer');
    return isEmpty(offer) ? rest : { ...rest, offer };
  }
  const overrides = without(draft, 'overrides');
  const left = withoutOverride(draft.overrides ?? {}, id);
  return isEmpty(left) ? overrides : { ...overrides, overrides: left };
}

function withoutOverride(overrides: Overrides, id: string): Overrides {
  if (id in WHOLE) return without(overrides, WHOLE[id as keyof typeof WHOLE]);
  const colon = id.indexOf(':');
  const field = BY_FEATURE[id.slice(0, colon) as keyof typeof BY_FEATURE];
  if (field === undefined) return overrides;
  const left = without((overrides[field] ?? {}) as Readonly<Record<string, unknown>>, id.slice(colon + 1));
  const rest = without(overrides, field);
  return isEmpty(left) ? rest : { ...rest, [field]: left };
}

function without<T extends object>(record: T, key: keyof T): T {
  return Object.fromEntries(Object.entries(record).filter(([name]) => name !== key)) as T;
}

function isEmpty(record: object): boolean {
  return Object.keys(record).length === 0;
}
