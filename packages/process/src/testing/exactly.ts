import { type Figure, given, STATED_FOR_JOB } from '@gapwright/base';

/** A figure without doubt, as a worked example states it. */
export function exactly(value: number, unit: string): Figure {
  return given(value, unit, 'Stated in the worked example', STATED_FOR_JOB);
}
