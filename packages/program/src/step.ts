import type { Point, Segment } from '@gapwright/geometry';

/** Which side of its travel the wire runs on. `left` is G41, `right` is G42. */
export type Side = 'left' | 'right';

/** A register holding the offset of one pass. */
export interface OffsetRegister {
  /** Number in the program, from 1. */
  readonly number: number;
  readonly offsetMm: number;
}

/**
 * What the machine shall do, in order, without any dialect. Coordinates in mm on the part's nominal contour;
 * `compensated` paths are offset by the register on the given side, as a controller does it.
 */
export type ProgramStep =
  | { readonly kind: 'note'; readonly text: string }
  | { readonly kind: 'set-register'; readonly register: OffsetRegister }
  /** Move without cutting and without wire in the work. */
  | { readonly kind: 'move'; readonly to: Point }
  | { readonly kind: 'thread-wire'; readonly at: Point }
  | { readonly kind: 'cut-wire' }
  /** Choose the spark condition (energy level) of the following cuts. */
  | { readonly kind: 'select-level'; readonly level: number }
  | { readonly kind: 'fluid'; readonly on: boolean }
  /**
   * Cut along `lead-in` (uncompensated start at the current point), the contour path with compensation, and lead-out.
   * The lead-in's first segment switches compensation on; the lead-out's last switches it off.
   */
  | {
      readonly kind: 'cut';
      readonly feature: string;
      readonly pass: number;
      readonly side: Side;
      readonly register: number;
      readonly feedMmPerMin: number;
      readonly leadIn: readonly Segment[];
      readonly path: readonly Segment[];
      readonly leadOut: readonly Segment[];
    }
  /** A moment that needs a person: hold the slug, remove it, check. `optional` stops may be switched off at the machine. */
  | { readonly kind: 'stop'; readonly reason: string; readonly optional: boolean };
