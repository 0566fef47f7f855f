import type { DraftJob } from '@gapwright/job';

/** Fields of a draft that are edited on the sheet as one value each. */
export type DraftField = keyof DraftJob;

const LABELS: Partial<Readonly<Record<DraftField, string>>> = {
  title: 'Title',
  customer: 'Customer',
  enquiry: 'Enquiry',
  enquiryText: 'Enquiry text',
  notes: 'Notes',
  wantedDay: 'Wanted by',
  promisedDay: 'Promised for',
  units: 'Units of the drawing',
  joinMm: 'Gaps closed up to',
  layers: 'Layers read',
  cutLayers: 'Layers cut',
  material: 'Material',
  heightMm: 'Height',
  raUm: 'Ra',
  toleranceMm: 'Profile tolerance',
  quantity: 'Quantity',
  recastMaxUm: 'Recast at most',
  agreedCornerRadiusMm: 'Agreed corner radius',
  wire: 'Wire',
  machine: 'Machine',
  stack: 'Plates in a stack',
  openPartSide: 'Part side of open cuts',
  plate: 'Plate',
  keepOuts: 'Clamps and keep-outs',
  overrides: 'Decisions of the plan',
  offer: 'Offer',
};

/** What a field is called on the sheet. */
export function fieldLabel(field: string): string {
  return LABELS[field as DraftField] ?? field;
}

/** A field's value in a few words, in the units it is kept in. */
export function fieldWords(field: string, value: unknown): string {
  if (value === undefined || value === null || value === '') return 'not stated';
  if (Array.isArray(value)) return value.join(', ');
  if (typeof value === 'number') {
    if (field === 'toleranceMm') return `±${value} mm`;
    if (field.endsWith('Mm')) return `${value} mm`;
    if (field.endsWith('Um')) return `${value} µm`;
    return String(value);
  }
  const text = String(value);
  return text.length > 60 ? `${text.slice(0, 57)}…` : text;
}

/** What a change of one field did, for the history. */
export function changeSays(field: DraftField, value: unknown): string {
  const isEmpty = value === undefined || value === null || value === '' || (Array.isArray(value) && value.length === 0);
  if (isEmpty) return `${fieldLabel(field)} left open`;
  if (field === 'enquiryText' || field === 'notes') return `${fieldLabel(field)} changed`;
  return `${fieldLabel(field)} set to ${fieldWords(field, value)}`;
}

/** The draft with one field changed; an empty value takes the field out. */
export function withField(draft: DraftJob, field: DraftField, value: unknown): DraftJob {
  const { [field]: _old, ...rest } = draft;
  const isEmpty = value === undefined || value === null || value === '' || (Array.isArray(value) && value.length === 0);
  return isEmpty ? rest : ({ ...rest, [field]: value } as DraftJob);
}

/** Fields with their new values; a field that is there without a value is taken out. */
export type DraftChange = { readonly [F in DraftField]?: DraftJob[F] | undefined };

/** The draft with several fields changed, as a counter-offer or a tried change states them. */
export function withChange(draft: DraftJob, change: DraftChange): DraftJob {
  return (Object.keys(change) as DraftField[]).reduce((next, field) => withField(next, field, change[field]), draft);
}

/** What makes `to` out of `from`. */
export function changeBetween(from: DraftJob, to: DraftJob): DraftChange {
  const fields = new Set([...Object.keys(from), ...Object.keys(to)]) as Set<DraftField>;
  return Object.fromEntries(
    [...fields].filter((f) => JSON.stringify(from[f]) !== JSON.stringify(to[f])).map((f) => [f, to[f]]),
  );
}

/** What several changed fields did, in one sentence. */
export function changesSay(from: DraftJob, to: DraftJob): string {
  const changed = Object.keys(changeBetween(from, to)) as DraftField[];
  if (changed.length === 0) return 'Nothing changed';
  return changed
    .map((f) =>
      f === 'offer' ? offerSays(to) : f === 'overrides' ? 'Decisions of the plan changed' : changeSays(f, to[f]),
    )
    .join('; ');
}

function offerSays(draft: DraftJob): string {
  const price = draft.offer?.unitPrice;
  return price === undefined ? 'Price per piece back to computed' : `Price per piece set to ${price}`;
}
