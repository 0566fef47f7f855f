import type { Shape } from './shape.js';
import type { SlugPlan } from './slugs.js';
import type { Entry } from './start-holes.js';

/** One feature as it will be cut with one wire at one height. */
export interface ShapeLayout {
  readonly shape: Shape;
  readonly entry: Entry;
  /** Null for open cuts, which free nothing. */
  readonly slug: SlugPlan | null;
  /** How far lead-outs that end in the waste reach, mm. */
  readonly outMm: number;
  /** An open cut from edge to edge: somebody must hold what it parts. */
  readonly cutsApart: boolean;
  readonly lengths: FeatureLengths;
}

/** Lengths of cuts over one feature with lead-ins, lead-outs and tab. */
export interface FeatureLengths {
  /** First pass, tab cut included, mm. */
  readonly roughMm: number;
  /** Each skim, mm. */
  readonly skimMm: number;
  readonly threadings: number;
  /** Further threading when there are skims. */
  readonly skimThreadings: number;
}

/** Length of the tab, mm; 0 when the piece falls free or nothing comes loose. */
export function tabMmOf(layout: Pick<ShapeLayout, 'entry'>): number {
  return layout.entry.ends.tabMm;
}

/** What a cut needs of a pass, as bare numbers for the program. */
export interface CutPass {
  readonly pass: number;
  readonly level: number;
  readonly register: number;
  readonly feedMmPerMin: number;
}
