import type { Problem } from '@gapwright/base';
import { fieldLabel } from '../requirements/draft-fields.js';
import type { ShownPlace } from '../sheet-context.js';

/** Where a problem can be answered on the sheet. */
export interface WayOut {
  readonly elementId: string;
  readonly says: string;
}

/** Id of the box of a requirement or decision, so that a problem can lead to it. */
export const fieldId = (field: string): string => `sheet-field-${field.replaceAll(/[^A-Za-z0-9]+/g, '-')}`;

const REQUIREMENT_FIELDS = new Set([
  'material',
  'heightMm',
  'raUm',
  'toleranceMm',
  'quantity',
  'recastMaxUm',
  'units',
  'cutLayers',
]);
const DECISION_FIELDS = new Set(['wire', 'machine', 'stack', 'agreedCornerRadiusMm', 'unitPrice']);

/** Names of the request that differ from those of the job. */
const FIELD_OF_REQUEST: Readonly<Record<string, string>> = { wireId: 'wire', machineId: 'machine' };

/** What commonly solves a problem whose place names no field. */
const FIELD_BY_CODE: readonly (readonly [start: string, field: string])[] = [
  ['WIRE-NONE-FITS', 'wire'],
  ['WIRE-CHOICE-COSTLIER', 'wire'],
  ['WIRE-CORNER-TOO-SHARP', 'wire'],
  ['WIRE-KERFS-MEET', 'wire'],
  ['WIRE-SHARP-CORNER', 'agreedCornerRadiusMm'],
  ['WIRE-CORNERS-ROUNDED', 'agreedCornerRadiusMm'],
  ['WIRE-CORNER-LEFT', 'agreedCornerRadiusMm'],
  ['WIRE-STACK', 'stack'],
  ['WIRE-SPOOL-ENDS', 'stack'],
  ['WIRE-NO-LADDER', 'raUm'],
  ['DXF-UNITS', 'units'],
  ['DXF-NO-UNITS', 'units'],
];

/** Where to go to answer a problem; null when its answer is not on the sheet. */
export function wayOut(problem: Problem): WayOut | null {
  const stated = problem.at?.field?.split('.').at(-1);
  const field =
    stated === undefined
      ? FIELD_BY_CODE.find(([start]) => problem.code.startsWith(start))?.[1]
      : (FIELD_OF_REQUEST[stated] ?? stated);
  if (field === undefined || !(REQUIREMENT_FIELDS.has(field) || DECISION_FIELDS.has(field))) return null;
  return { elementId: fieldId(field), says: `Go to ${fieldLabel(field).toLowerCase()}` };
}

/** What of a problem can be shown on the drawing. */
export function placeOfProblem({ at, code }: Problem): ShownPlace {
  return {
    problemCode: code,
    ...(at?.xMm === undefined || at.yMm === undefined ? {} : { xMm: at.xMm, yMm: at.yMm }),
    ...(at?.feature === undefined ? {} : { feature: at.feature }),
  };
}
