import type { Point } from '@gapwright/geometry';
import { type LengthUnit, lengthNumber, lengthText } from '../units/length.js';
import type { Snap } from './snap.js';

/** Two points being measured. */
export interface Measure {
  readonly first: Snap | null;
  readonly second: Snap | null;
}

export const NOTHING_MEASURED: Measure = { first: null, second: null };

/** The measure after one more point: the first, the second, or a new first after two. */
export function withPoint(measure: Measure, snap: Snap): Measure {
  if (measure.first === null || measure.second !== null) return { first: snap, second: null };
  return { first: measure.first, second: snap };
}

/** What was measured, in words. */
export function measureText(first: Snap, second: Snap, unit: LengthUnit): string {
  const dx = second.at.x - first.at.x;
  const dy = second.at.y - first.at.y;
  const parts = [
    `distance ${lengthText(Math.sqrt(dx * dx + dy * dy), unit)}`,
    `dx ${lengthText(dx, unit)}`,
    `dy ${lengthText(dy, unit)}`,
  ];
  const radius = second.radiusMm ?? first.radiusMm;
  if (radius !== null) parts.push(`radius of the arc ${lengthText(radius, unit)}`);
  return parts.join(', ');
}

export function pointText(p: Point, unit: LengthUnit): string {
  return `x ${lengthNumber(p.x, unit)}  y ${lengthNumber(p.y, unit)} ${unit === 'mm' ? 'mm' : 'in'}`;
}

/** A deviation for reading, with its sign: whole micrometres and tenths, or micro-inches. */
export function deviationText(mm: number, unit: LengthUnit): string {
  const sign = mm < 0 ? '−' : '+';
  const size = Math.abs(mm);
  return unit === 'mm' ? `${sign}${(size * 1000).toFixed(1)} µm` : `${sign}${Math.round((size / 25.4) * 1e6)} µin`;
}
