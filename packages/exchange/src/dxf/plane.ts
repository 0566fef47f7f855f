import type { DxfRecord } from './record.js';
import { Refusal } from './refusal.js';

/**
 * Which way an entity's own plane faces: `up` along world z, `down` seen from behind (own x is minus world x), or
 * `tilted` in any other direction.
 */
export type Facing = 'up' | 'down' | 'tilted';

/**
 * Largest sideways part of an extrusion direction of length 1 that still counts as straight: far below what a
 * 10 m drawing would show (5e-18 of its size), far above the rounding of written directions.
 */
const STRAIGHT = 1e-9;

/**
 * The facing by the extrusion direction (groups 210, 220, 230). The arbitrary-axis rule of the DXF reference gives
 * own x = (-1, 0, 0) and own y = (0, 1, 0) for (0, 0, -1).
 */
export function facingOf(record: DxfRecord): Facing {
  const x = record.optional(210, 0);
  const y = record.optional(220, 0);
  const z = record.optional(230, 1);
  const size = Math.sqrt(x * x + y * y + z * z);
  if (size === 0) {
    throw new Refusal(
      'DXF-BAD-VALUE',
      `${record.label()} has the extrusion direction (0, 0, 0)`,
      'Redraw it, and export the drawing again',
      record.place(),
    );
  }
  if (Math.sqrt(x * x + y * y) > STRAIGHT * size) return 'tilted';
  return z > 0 ? 'up' : 'down';
}

/** Reason given for entities that do not face straight up or down. */
export const TILTED = 'lies in a tilted plane; only drawings in the x-y plane can be cut';

/** Reason given for entities whose points differ in z. */
export const NOT_FLAT = 'is not at one height z; only flat drawings can be cut';

/** Heights that differ by less, in drawing units, are the same: beyond any tolerance of a cut, above rounding noise. */
export const SAME_HEIGHT = 1e-6;
