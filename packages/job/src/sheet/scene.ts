import type { Box, Point } from '@gapwright/geometry';
import type { PackedPaths } from './packed-paths.js';

/** What one kind of line on the drawing means. */
export type SceneLayerKind = 'part' | 'reference' | 'pass' | 'lead-in' | 'open end';

/** Lines of one meaning. */
export interface SceneLayer {
  readonly kind: SceneLayerKind;
  /** Number of the pass; 1 is the rough cut and drawn heaviest. Only for `pass` and `lead-in`. */
  readonly pass?: number;
  /** Operation the lines belong to; absent for the drawing itself. */
  readonly operation?: number;
  readonly paths: PackedPaths;
  /** Feature id of each path, or its layer on the drawing for `reference`. */
  readonly names: readonly string[];
}

/** A place on the drawing with a word beside it. */
export type SceneMark =
  | {
      readonly kind: 'start hole';
      readonly label: string;
      readonly at: Point;
      readonly diameterMm: number;
      readonly features: readonly string[];
      readonly fromEdge: boolean;
    }
  | { readonly kind: 'tab'; readonly label: string; readonly feature: string; readonly from: Point; readonly to: Point }
  | { readonly kind: 'keep-out'; readonly label: string; readonly box: Box }
  | { readonly kind: 'plate'; readonly label: string; readonly box: Box }
  | { readonly kind: 'datum'; readonly label: string; readonly at: Point }
  | { readonly kind: 'feature'; readonly label: string; readonly feature: string; readonly at: Point }
  | {
      readonly kind: 'problem';
      readonly label: string;
      readonly at: Point;
      readonly code: string;
      readonly severity: 'stop' | 'warn' | 'info';
    };

/** Deviation of the finished wall along one feature: x, y, deviationMm per sample (positive is rest, negative undercut). */
export interface SceneBand {
  readonly operation: number;
  readonly feature: string;
  readonly samples: Float64Array;
  readonly isClosed: boolean;
}

/** The wire's real path through one program, in order, for the scrubber. */
export interface SceneWalk {
  readonly operation: number;
  /** One path per move. */
  readonly paths: PackedPaths;
  /** Burning minutes from the start to the end of each move. */
  readonly endMin: Float64Array;
  /** 1 where the wire cuts, 0 for moves without cutting. */
  readonly cuts: Uint8Array;
  /** Line of the program text of each move. */
  readonly lines: Uint32Array;
  /** Half the kerf of each move, mm: wire radius and gap at its level. */
  readonly halfKerfMm: Float32Array;
  /** Moments that need a person, with the minute they come at. */
  readonly stops: readonly {
    readonly atMin: number;
    readonly line: number;
    readonly says: string;
    readonly at: Point;
  }[];
}

/** Everything the drawing pane shows. Grows as the answer does: lines first, passes with the plan, band and walk with the proof. */
export interface Scene {
  readonly boxMm: Box;
  readonly layers: readonly SceneLayer[];
  readonly marks: readonly SceneMark[];
  readonly bands: readonly SceneBand[];
  readonly walks: readonly SceneWalk[];
}
