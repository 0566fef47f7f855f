import type { SceneLayerKind } from '@gapwright/job';

/** What is picked on the drawing or in the sheet. Equal fields mean the same thing on both sides. */
export interface DrawingSelection {
  /** Feature id, or the layer on the drawing for reference lines. */
  readonly feature?: string;
  /** Label of a mark. */
  readonly mark?: string;
  /** Code of a problem that has a place. */
  readonly problemCode?: string;
}

/** What is shown beside the lines of the drawing. */
export interface DrawingShow {
  /** Wire paths of every pass, and their lead-ins. */
  readonly passes: boolean;
  /** Start holes, tabs, clamps, datum and names. */
  readonly marks: boolean;
  /** Deviations of the finished wall, magnified. */
  readonly band: boolean;
  /** Stock with the kerf eroded so far. */
  readonly erosion: boolean;
}

export const SHOW_AT_FIRST: DrawingShow = { passes: true, marks: true, band: true, erosion: false };

/** Colours of the drawing, as the canvas takes them. */
export interface DrawingColours {
  readonly ink: string;
  readonly faint: string;
  readonly rule: string;
  readonly ruleStrong: string;
  readonly paper: string;
  readonly needs: string;
  readonly proven: string;
}

/** Which layers of the scene are drawn, in the order of their importance for picking. */
export const PICK_PENALTY_PX: Readonly<Record<SceneLayerKind, number>> = {
  part: 0,
  'open end': 0,
  pass: 1.5,
  'lead-in': 2,
  reference: 3,
};
