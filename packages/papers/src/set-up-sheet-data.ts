import type { Problem } from '@gapwright/base';
import type { Box, Point } from '@gapwright/geometry';
import type { Drawing } from './drawing/drawing.js';
import type { PaperHead, PaperPart } from './paper-head.js';
import type { Spread } from './spread.js';

/** One row of the pass ladder; a planned wire pass fits as it is. */
export interface LadderPass {
  readonly pass: number;
  readonly level: number;
  readonly levelName: string;
  readonly register: number;
  readonly offsetMm: Spread;
  readonly gapMm: Spread;
  readonly feedMmPerMin: Spread;
  readonly raUm: Spread;
  readonly burnMin: Spread;
}

/** A start hole; a planned one fits as it is. */
export interface SheetStartHole {
  readonly id: string;
  readonly at: Point;
  readonly diameterMm: number;
  readonly features: readonly string[];
  readonly fromEdge: boolean;
}

/** A loose piece; a planned slug fits as it is. */
export interface SheetSlug {
  readonly feature: string;
  readonly piece: 'slug' | 'part';
  readonly massG: Spread;
  readonly handling: string;
  readonly tabMm: Spread | null;
}

/** One line of the order of work. `touch` needs a person at the machine. */
export interface WorkStep {
  readonly kind: 'burn' | 'touch';
  readonly says: string;
  readonly min?: Spread;
}

/** What the proof said of the program on this sheet. */
export interface SheetProof {
  readonly verdict: 'passed' | 'failed' | 'not run';
  /** Deepest place where material is missing, mm; 0 when none. */
  readonly largestUndercutMm?: number;
  readonly undercutAt?: Point | null;
  /** Highest place where material is left, mm; 0 when none. */
  readonly largestRestMm?: number;
  readonly restAt?: Point | null;
  /** What the proof found, one sentence each. */
  readonly says: readonly string[];
}

/** Everything a set-up sheet for one wire operation prints. */
export interface SetUpSheetData extends PaperHead {
  readonly part: PaperPart;
  readonly quantity: number;
  readonly operation: {
    readonly number: number;
    readonly title: string;
    readonly runs: number;
    readonly machineMin: Spread;
    readonly attendedMin: Spread;
    readonly unattendedMin?: Spread;
  };
  readonly machine: { readonly id: string; readonly name?: string };
  readonly wire: {
    readonly id: string;
    readonly diameterMm: number;
    readonly kind?: string;
    readonly useM?: Spread;
    readonly useKg?: Spread;
  };
  /** Plates burned on top of each other in one run. */
  readonly stack: number;
  readonly burnHeightMm: number;
  readonly plate: Box;
  /** Where zero is, in words. */
  readonly datum: string;
  readonly drawing: Drawing;
  readonly startHoles: readonly SheetStartHole[];
  readonly passes: readonly LadderPass[];
  readonly work: readonly WorkStep[];
  readonly slugs: readonly SheetSlug[];
  readonly program: {
    readonly fileName: string;
    readonly sha256: string;
    readonly lines?: number;
  };
  readonly proof: SheetProof;
  /** Machine and material cautions, one sentence each. */
  readonly cautions: readonly string[];
  readonly problems?: readonly Problem[];
}
