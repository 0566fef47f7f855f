import { type Problem, problem } from '@gapwright/base';
import type { DxfDrawing } from '../dxf/drawing.js';

/** Units a drawing can be in. */
export type DrawingUnits = 'mm' | 'cm' | 'm' | 'um' | 'in' | 'ft';

/** Millimetres in one unit; inch and foot by their international definition (25.4 mm and 304.8 mm, exact). */
export const MM_PER_UNIT: Readonly<Record<DrawingUnits, number>> = {
  mm: 1,
  cm: 10,
  m: 1000,
  um: 0.001,
  in: 25.4,
  ft: 304.8,
};

/** $INSUNITS codes of the DXF reference for the units above. */
const BY_CODE: Readonly<Record<number, DrawingUnits>> = { 1: 'in', 2: 'ft', 4: 'mm', 5: 'cm', 6: 'm', 13: 'um' };

export interface ResolvedUnits {
  readonly units: DrawingUnits;
  /** True when neither the caller nor the file said so. */
  readonly isAssumed: boolean;
  readonly problems: readonly Problem[];
}

/** The units of a drawing: those asked for, else those of the file, else mm with a warning. Null with a stop problem. */
export function resolveUnits(drawing: DxfDrawing, asked?: DrawingUnits): ResolvedUnits | { readonly problem: Problem } {
  if (asked !== undefined) return { units: asked, isAssumed: false, problems: [] };
  const at = drawing.fileName === null ? {} : { at: { file: drawing.fileName, field: '$INSUNITS' } };
  const code = drawing.insertUnits ?? 0;
  if (code === 0) {
    const hint = drawing.measurement === 0 ? ', though its $MEASUREMENT says inches' : '';
    const assumed = problem({
      code: 'DXF-UNITS-ASSUMED',
      severity: 'warn',
      what: `The drawing does not say in which units it is ($INSUNITS is ${drawing.insertUnits ?? 'absent'}); millimetres are assumed${hint}`,
      fix: 'Check one known dimension, and give the units if they are others',
      ...at,
    });
    return { units: 'mm', isAssumed: true, problems: [assumed] };
  }
  const units = BY_CODE[code];
  if (units !== undefined) return { units, isAssumed: false, problems: [] };
  return {
    problem: problem({
      code: 'DXF-UNITS-UNKNOWN',
      severity: 'stop',
      what: `The drawing is in units with the code ${code} ($INSUNITS), which are not used for parts`,
      fix: 'Give the units: mm, cm, m, um, in or ft',
      ...at,
    }),
  };
}
