/** The shop as it signs its papers. */
export interface Letterhead {
  readonly name: string;
  /** Address, telephone, mail: one line each. */
  readonly lines: readonly string[];
}

/** Unit that lengths, feeds and roughness are printed in; the data are always mm and µm. */
export type LengthUnit = 'mm' | 'inch';

/** What every paper says about itself. */
export interface PaperHead {
  readonly shop: Letterhead;
  /** Date of the paper, `YYYY-MM-DD`; papers read no clock. */
  readonly date: string;
  /** Enquiry or job number. */
  readonly jobNumber: string;
  readonly lengthUnit: LengthUnit;
  /** True when any of the content was made up for a demonstration; every page then says so. */
  readonly invented: boolean;
  /** One sentence: what the numbers rest on, e.g. "Starting values from published ranges …; no burns of this shop yet". */
  readonly standing: string;
  /** Version of the shop book the numbers come from. */
  readonly bookVersion?: string;
}

/** The part as a paper names it. */
export interface PaperPart {
  readonly name: string;
  readonly drawingFile?: string;
  readonly revision?: string;
  readonly material: string;
  readonly heightMm: number;
  /** Profile tolerance, ± mm. */
  readonly toleranceMm: number;
  /** Finest surface asked for, Ra in µm. */
  readonly raUm: number;
  /** Deepest recast layer the drawing allows, µm. */
  readonly recastMaxUm?: number;
  /** Radius that sharper inside corners may keep, mm. */
  readonly agreedCornerRadiusMm?: number;
}
