import type { Box, Contour, Point, Segment } from '@gapwright/geometry';

/** A contour of the finished part. */
export interface DrawnContour {
  /** `F1`, `F2` … */
  readonly feature: string;
  readonly role: 'outline' | 'opening' | 'open';
  readonly contour: Contour;
}

/** The way of the wire's centre in one pass over one feature, in direction of travel. */
export interface DrawnPass {
  readonly feature: string;
  /** 1 is the rough cut, drawn heaviest. */
  readonly pass: number;
  readonly path: readonly Segment[];
}

/** The way from the start hole to the contour. */
export interface DrawnLeadIn {
  readonly feature: string;
  readonly path: readonly Segment[];
}

export interface DrawnStartHole {
  readonly id: string;
  readonly at: Point;
  readonly diameterMm: number;
  readonly fromEdge: boolean;
}

/** A bridge left standing: both ends on the feature's contour, in direction of travel. */
export interface DrawnTab {
  readonly feature: string;
  readonly from: Point;
  readonly to: Point;
}

export interface DrawnKeepOut {
  readonly id: string;
  readonly label: string;
  readonly box: Box;
}

/** A place to look at: ringed, and named when it has a label. */
export interface DrawnPlace {
  readonly at: Point;
  readonly label?: string;
}

/** What a paper shows of the part, in drawing coordinates, mm, y up. Everything but the contours may be missing. */
export interface Drawing {
  readonly contours: readonly DrawnContour[];
  /** Closed lines that are not cut here, such as a blank finished before: drawn thin, and they bound the material. */
  readonly references?: readonly Contour[];
  readonly passes?: readonly DrawnPass[];
  readonly leadIns?: readonly DrawnLeadIn[];
  readonly startHoles?: readonly DrawnStartHole[];
  readonly tabs?: readonly DrawnTab[];
  readonly keepOuts?: readonly DrawnKeepOut[];
  /** Stock plate. */
  readonly plate?: Box;
  /** Where zero is; a small cross marks it. */
  readonly datum?: Point;
  readonly places?: readonly DrawnPlace[];
}
