import type { Point } from '@gapwright/geometry';
import type { Side } from './step.js';

/** Where in the program text a motion stands; both count from 1. */
export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

/**
 * One thing a controller does, as read back from program text. Positions are absolute, in mm, on the programmed
 * (uncompensated) path. Everything the proof may know about a program is in this list.
 */
export type Motion = { readonly place: TextPlace } & (
  | { readonly kind: 'set-register'; readonly register: number; readonly offsetMm: number }
  | { readonly kind: 'select-level'; readonly level: number }
  | { readonly kind: 'compensation'; readonly side: Side | 'off'; readonly register: number }
  | { readonly kind: 'rapid'; readonly from: Point; readonly to: Point }
  | { readonly kind: 'line'; readonly from: Point; readonly to: Point; readonly feedMmPerMin: number }
  | {
      readonly kind: 'arc';
      readonly from: Point;
      readonly to: Point;
      readonly centre: Point;
      readonly clockwise: boolean;
      readonly feedMmPerMin: number;
    }
  | { readonly kind: 'thread-wire' }
  | { readonly kind: 'cut-wire' }
  | { readonly kind: 'fluid'; readonly on: boolean }
  | { readonly kind: 'stop'; readonly optional: boolean; readonly text: string }
  | { readonly kind: 'end' }
  | { readonly kind: 'note'; readonly text: string }
);
