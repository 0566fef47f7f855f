import type { Box } from '@gapwright/geometry';
import type { Material, ShopBook } from '@gapwright/process';
import type { WireRequest } from './plan.js';
import type { DrawnShape } from './shapes.js';
import type { SlugPlan } from './slugs.js';

/** The request with everything worked out that does not depend on wire, machine or stack. */
export interface Job {
  readonly request: WireRequest;
  readonly book: ShopBook;
  readonly material: Material;
  readonly shapes: readonly DrawnShape[];
  /** Box around all lines of the drawing. */
  readonly drawing: Box;
  /** Box of a finished blank on the drawing; null when there is none. */
  readonly blank: Box | null;
  /** Finished pieces one plate gives. */
  readonly partsPerPlate: number;
  /** Plates needed for the quantity. */
  readonly plates: number;
  /** What becomes of the piece of each shape in a stack, in the order of `shapes`; worked out once per stack. */
  slugsOf(stack: number): readonly (SlugPlan | null)[];
}
