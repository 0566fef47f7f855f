import type { FigureJson, Problem, WorkingTable } from '@gapwright/base';
import type { Box } from '@gapwright/geometry';
import type { z } from 'zod';
import type { PlanDocument } from '../documents/plan-document.js';
import type { PriceDocument } from '../documents/price-document.js';
import type { proofShape } from '../documents/proof-document.js';
import type { DraftJob } from './draft-job.js';
import type { Scene } from './scene.js';

/** A question that must be answered before the job can be planned. */
export interface Question {
  /** The field of the draft job it fills. */
  readonly field:
    | 'units'
    | 'material'
    | 'heightMm'
    | 'raUm'
    | 'toleranceMm'
    | 'quantity'
    | 'openPartSide'
    | 'cutLayers'
    | 'drawing';
  readonly asks: string;
  /** Why it matters, one sentence. */
  readonly because: string;
  /** A likely answer with where it comes from, e.g. from the pasted enquiry or the drawing. Never filled in silently. */
  readonly suggestion: { readonly value: unknown; readonly says: string } | null;
  /** Possible answers, when there are only some. */
  readonly choices: readonly { readonly value: string; readonly says: string }[];
}

/** What was read from the drawing. */
export interface SheetDrawing {
  readonly fileName: string;
  /** Units it was read in, and whether nobody stated them. */
  readonly units: string;
  readonly unitsAssumed: boolean;
  readonly boxMm: Box | null;
  readonly layers: readonly {
    readonly name: string;
    readonly contours: number;
    readonly isRead: boolean;
    readonly isCut: boolean;
  }[];
  readonly contours: readonly {
    /** `F1` … once planned, else null. */
    readonly feature: string | null;
    readonly role: 'outline' | 'opening' | 'open';
    readonly layer: string;
    readonly segments: number;
    readonly lengthMm: number;
    readonly areaMm2: number;
    readonly minInsideRadiusMm: number | null;
    readonly sharpInsideCorners: number;
  }[];
  /** What was changed to make contours, in words with places. */
  readonly repairs: readonly { readonly says: string; readonly xMm: number; readonly yMm: number }[];
  readonly skipped: readonly { readonly says: string; readonly count: number }[];
  readonly largestFitDeviationMm: number;
}

/** What an overruled or computed decision does to the job, against the computed choice. */
export interface DecisionCost {
  /** Change of the computed price per piece; null when one of the two cannot be priced. */
  readonly unitPriceChange: number | null;
  readonly burnMinChange: number | null;
  readonly attendedMinChange: number | null;
  /** Stop problems the choice brings, or the computed choice would bring. */
  readonly says: string;
}

/** One choice the plan made that the planner may overrule. */
export interface Decision {
  /** Stable, e.g. `wire`, `machine`, `stack`, `passes`, `agreedCornerRadiusMm`, `unitPrice`, `slug:F2`, `startHole:F2`, `order`. */
  readonly id: string;
  readonly label: string;
  /** Operation number it belongs to; null for the whole job. */
  readonly operation: number | null;
  readonly feature: string | null;
  /** Value in force and the computed one, as shown. */
  readonly chosen: string;
  readonly computed: string;
  readonly isOverruled: boolean;
  /** Why the plan would choose the computed one. */
  readonly because: string;
  readonly input:
    | {
        readonly kind: 'choice';
        readonly value: string;
        readonly options: readonly { readonly value: string; readonly says: string; readonly isPossible: boolean }[];
      }
    | {
        readonly kind: 'length' | 'count' | 'money';
        readonly value: number | null;
        readonly min: number;
        readonly max: number;
      }
    | { readonly kind: 'place'; readonly xMm: number; readonly yMm: number }
    | {
        readonly kind: 'levels';
        readonly value: readonly number[];
        readonly options: readonly { readonly level: number; readonly name: string }[];
      }
    | { readonly kind: 'order'; readonly value: readonly string[] };
  /** What overruling costs; null while it is being worked out, or when nothing is overruled. */
  readonly costs: DecisionCost | null;
}

/** Proof of one program. */
export interface SheetProof extends z.infer<z.ZodObject<typeof proofShape>> {
  readonly operation: number;
  readonly fileName: string;
}

/** A change worth asking the customer for; `change` is what a what-if column would try. */
export interface CounterOffer {
  readonly id: string;
  readonly says: string;
  readonly change: Partial<DraftJob>;
  /** Share of the price saved, 0.31 = 31 % less. */
  readonly savingShare: number;
  readonly unitPrice: number;
  readonly burnChange: number;
}

/**
 * The whole answer to a draft job as plain data: a screen shows it, a file keeps it. It comes in parts; a part that is
 * null has not come yet, or cannot for the problems listed.
 */
export interface SheetAnswer {
  readonly questions: readonly Question[];
  readonly drawing: SheetDrawing | null;
  readonly scene: Scene | null;
  /** Plan and offer with the working of every figure. Its proof and programs are empty before the proof is through. */
  readonly plan: PlanDocument | null;
  readonly proofs: readonly SheetProof[] | null;
  /** Prices at other quantities and what drives the price. */
  readonly price: PriceDocument | null;
  readonly counterOffers: readonly CounterOffer[] | null;
  readonly decisions: readonly Decision[];
  readonly problems: readonly Problem[];
  /** Ids of the cautions that belong to the job; the process room has their texts. */
  readonly cautions: readonly string[];
  /** What the numbers rest on, one sentence for head and papers. */
  readonly standing: string;
}

/** The parts of an answer, in the order they come. */
export const SHEET_PARTS = ['read', 'planned', 'proven', 'studied', 'weighed'] as const;
export type SheetPart = (typeof SHEET_PARTS)[number];

/** How much one input of a figure moves it: the input at the ends of its interval, everything else as it is. */
export interface InputPull {
  readonly name: string;
  readonly figure: FigureJson;
  readonly atLow: number;
  readonly atHigh: number;
}

/** Given numbers shown as what moves a figure most. */
export const MOST_ROOTS = 8;

/** One figure opened, with what would change it most (largest pull first). */
export interface OpenedFigure {
  readonly id: string;
  readonly pulls: readonly InputPull[];
  /**
   * The given numbers far behind the figure that move it most, through all laws between: the whole working again with one
   * of them at the ends of its interval. Largest pull first, at most {@link MOST_ROOTS}.
   */
  readonly roots: readonly InputPull[];
  readonly doubts: readonly { readonly cause: string; readonly share: number }[];
  /** The part of the figure table that the working needs. */
  readonly table: WorkingTable;
}
