import type { Box, Contour, Point } from '@gapwright/geometry';

/** One contour of the drawing and which side of it must remain. */
export interface DrawnFeature {
  readonly id: string;
  /** `opening`: material inside is removed (the slug). `outline`: the part is inside. `open`: an open cut; the part lies on `partSide` of the drawn direction. */
  readonly kind: 'opening' | 'outline' | 'open';
  readonly contour: Contour;
  readonly partSide?: 'left' | 'right';
}

/** What is really on the machine table: the facts a set-up sheet states, independent of how the program was planned. */
export interface SetUpFacts {
  readonly wireDiameterMm: number;
  readonly heightMm: number;
  /** Spark gap per side of each energy level the program may select, mm. */
  readonly levels: readonly { readonly level: number; readonly gapMm: number }[];
  /** Passes in the order they must run, with the stock each skim may remove (mm, from the pass ladder). */
  readonly passes: readonly {
    readonly pass: number;
    readonly level: number;
    readonly register: number;
    readonly offsetMm: number;
    readonly stockMm: number;
    /** Feed the sheet states for the pass; a faster one fails the proof. Absent when the sheet does not say. */
    readonly feedMmPerMin?: number;
  }[];
  readonly startHoles: readonly { readonly id: string; readonly centre: Point; readonly diameterMm: number }[];
  readonly plate: Box | null;
  /** Clamps and other places where the wire and guides must not go. */
  readonly keepOuts: readonly { readonly id: string; readonly label: string; readonly box: Box }[];
  readonly travel: Box | null;
  /** Tabs that must stay until somebody is there: along-contour stretches left uncut by the roughing pass. */
  readonly tabs: readonly { readonly feature: string; readonly from: Point; readonly to: Point }[];
  /** Closed features whose loose piece may fall with nobody there; every other one needs a stop before it comes free. */
  readonly mayFallUnattended?: readonly string[];
  /** Profile tolerance, ± mm: undercut (material missing) and rest (material too much) beyond it fail. */
  readonly toleranceMm: number;
  /** Inside corners drawn sharper than this may keep this radius (agreed on the set-up sheet); 0 when none is agreed. */
  readonly agreedCornerRadiusMm: number;
}
