import type { FileRef } from '@gapwright/records';
import { changedFields, fieldsOf } from './fields.js';
import type { JobState } from './rows.js';

const LABELS: Readonly<Record<string, string>> = {
  'content.invented': 'Made-up data',
  'content.title': 'Title',
  'content.customer': 'Customer',
  'content.enquiry': 'Enquiry',
  'content.units': 'Units of the drawing',
  'content.joinMm': 'Gaps closed up to',
  'content.layers': 'Layers read',
  'content.cutLayers': 'Layers cut',
  'content.material': 'Material',
  'content.heightMm': 'Height',
  'content.raUm': 'Ra',
  'content.toleranceMm': 'Profile tolerance',
  'content.quantity': 'Quantity',
  'content.recastMaxUm': 'Recast at most',
  'content.agreedCornerRadiusMm': 'Agreed corner radius',
  'content.wire': 'Wire',
  'content.machine': 'Machine',
  'content.stack': 'Plates in a stack',
  'content.plate': 'Plate',
  'content.keepOuts': 'Clamps and keep-outs',
  'content.openPartSide': 'Part side of open cuts',
  'content.offer.unitPrice': 'Price per piece',
  'content.offer.quantities': 'Quantities offered',
  'content.wantedDay': 'Wanted by',
  'content.promisedDay': 'Promised for',
  'content.enquiryText': 'Enquiry text',
  'content.notes': 'Notes',
  stage: 'Stands at',
  drawing: 'Drawing',
};

/** A label a planner reads for a field. */
export function labelOf(field: string): string {
  const known = LABELS[field];
  if (known !== undefined) return known;
  const name = field.split('.').at(-1) ?? field;
  const words = name
    .replace(/(Mm|Um|Min)$/, '')
    .replace(/([A-Z])/g, ' $1')
    .toLowerCase()
    .trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** Long texts are told apart by their beginning. */
const LONGEST_TEXT = 160;

const UNIT_BY_ENDING = [
  ['Mm', 'mm'],
  ['Um', 'µm'],
  ['Min', 'min'],
] as const;

interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}
const isBox = (value: unknown): value is Box =>
  typeof value === 'object' && value !== null && ['minX', 'minY', 'maxX', 'maxY'].every((side) => side in value);
const boxWords = (box: Box): string =>
  `${box.maxX - box.minX} x ${box.maxY - box.minY} mm at (${box.minX}, ${box.minY})`;

/** A field's value in words; lengths in mm as they are kept. */
export function valueWords(field: string, value: unknown): string {
  if (value === undefined || value === null || value === '') return 'open';
  if (field === 'drawing') {
    const file = value as FileRef;
    return `${file.fileName} (${file.byteLength} bytes, ${file.sha256.slice(0, 8)})`;
  }
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') {
    const unit = UNIT_BY_ENDING.find(([ending]) => field.endsWith(ending))?.[1];
    const sign = field.endsWith('toleranceMm') ? '±' : '';
    return unit === undefined ? String(value) : `${sign}${value} ${unit}`;
  }
  if (typeof value === 'string') {
    return value.length > LONGEST_TEXT ? `${value.slice(0, LONGEST_TEXT)} … (${value.length} letters)` : value;
  }
  if (isBox(value)) return boxWords(value);
  if (Array.isArray(value)) {
    if (value.length === 0) return 'none';
    return value
      .map((item: unknown) => {
        if (typeof item !== 'object' || item === null) return String(item);
        const { label, box } = item as { label?: unknown; box?: unknown };
        if (typeof label === 'string') return isBox(box) ? `${label}: ${boxWords(box)}` : label;
        return JSON.stringify(item);
      })
      .join(', ');
  }
  return JSON.stringify(value);
}

export interface Difference {
  readonly field: string;
  readonly label: string;
  readonly mine: string;
  readonly theirs: string;
}

/** The fields that differ between two states, in words. */
export function differencesBetween(mine: JobState, theirs: JobState): Difference[] {
  const mineFields = fieldsOf(mine);
  const theirFields = fieldsOf(theirs);
  return changedFields(mineFields, theirFields).map((field) => ({
    field: field.replace(/^content\./, ''),
    label: labelOf(field),
    mine: valueWords(field, mineFields.get(field)),
    theirs: valueWords(field, theirFields.get(field)),
  }));
}
