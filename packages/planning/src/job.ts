import type { Box } from '@gapwright/geometry';
import type { Material, ShopBook } from '@gapwright/process';
import type { WireOverrides, WireRequest } from './plan.js';
import type { DrawnShape } from './shapes.js';
import type { SlugPlan } from './slugs.js';

/** So many runs of one height of stack. */
export interface StackRuns {
  readonly stack: number;
  readonly runs: number;
  /** Passes that are settled as well, as indexes into the level list; null lets the search choose. */
  readonly levels: readonly number[] | null;
}

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
  /** What is taken out of the plan's hands; empty while the plan is computed. */
  readonly overrides: WireOverrides;
  /** True when passes that miss what is asked are left out; stated passes are taken all the same. */
  readonly mustMeetNeeds: boolean;
  /** Stacks that are settled; null lets the search choose. */
  readonly settled: readonly StackRuns[] | null;
  /** What becomes of the piece of each shape in a stack, in the order of `shapes`; worked out once per stack. */
  slugsOf(stack: number): readonly (SlugPlan | null)[];
}
