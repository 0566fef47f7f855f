import type { Figure, Problem } from '@gapwright/base';
import type { Box, Contour, Point } from '@gapwright/geometry';
import type { ProgramStep } from '@gapwright/program';

/** What the customer asks for, resolved: every unit in mm, every id known to the shop book. */
export interface WireRequest {
  readonly materialId: string;
  readonly heightMm: number;
  /** Finest surface asked for, Ra in µm. */
  readonly raUm: number;
  /** Profile tolerance, ± mm. */
  readonly toleranceMm: number;
  readonly quantity: number;
  /** Deepest recast layer the drawing allows, µm; undefined when it says nothing. */
  readonly recastMaxUm?: number;
  /** Radius that inside corners drawn sharp or smaller may keep, by agreement; undefined: what the chosen wire leaves in sharp corners is proposed and flagged. */
  readonly agreedCornerRadiusMm?: number;
  /** The planner's own choice; undefined lets the plan choose. */
  readonly wireId?: string;
  readonly machineId?: string;
  /** Plates burned on top of each other; undefined lets the plan choose. */
  readonly stack?: number;
  /** Stock plate in drawing coordinates; undefined: a rim from the shop book around the drawing. */
  readonly plate?: Box;
  /** Clamps and other places the wire and guides must not enter; undefined: clamps from the shop book's rule. */
  readonly keepOuts?: readonly KeepOut[];
  /** Part side of open contours, in drawn direction; without it a contour that does not close stops the plan. */
  readonly openPartSide?: 'left' | 'right';
  /**
   * Layers to be cut; contours on other layers (a finished blank, say) only tell inside from outside. Undefined: all
   * layers. When the outermost contour is not cut and no plate is stated, the plate is the box around it.
   */
  readonly cutLayers?: readonly string[];
  /** Decisions of the plan taken by the planner instead. */
  readonly overrides?: WireOverrides;
}

/**
 * What the planner decided instead of the plan; what is left out stays computed. Plain JSON. Stated choices apply to
 * all wire operations of the plan; wire, machine, stacks and whatever is not stated stay as they are planned without them.
 */
export interface WireOverrides {
  /** The passes by level of the shop book: the rough level first, finer ones after it in order. */
  readonly passLevels?: readonly number[];
  /** Start holes by feature id. */
  readonly startHoles?: Readonly<Record<string, StartHolePlace>>;
  /** What becomes of the piece a closed contour frees, by feature id. */
  readonly slugHandling?: Readonly<Record<string, SlugHandling>>;
  /** Length of the tab along the contour by feature id, mm. */
  readonly tabMm?: Readonly<Record<string, number>>;
  /** Feature ids in the order of cutting; features that are not listed follow in the computed order. */
  readonly order?: readonly string[];
}

/** Where the wire of a feature comes in, mm on the drawing. */
export interface StartHolePlace {
  readonly x: number;
  readonly y: number;
  /** Drilled diameter; undefined: the size the shop prefers that fits there. Not for cuts from the edge. */
  readonly diameterMm?: number;
  /** True: no hole; the wire starts here outside the plate. Undefined: a drilled hole. */
  readonly fromEdge?: boolean;
}

/** What becomes of a piece that comes loose. */
export type SlugHandling = 'falls free' | 'tab' | 'tab and support';

/**
 * What is planned for one wire operation's wire, machine and stack when nothing is overruled, in the shape of
 * {@link WireOverrides}: shown beside the planner's choice.
 */
export interface ComputedChoices {
  /** Number of the wire operation. */
  readonly operation: number;
  /** Null when no passes of this wire meet what is asked. */
  readonly passLevels: readonly number[] | null;
  /** Features for which no start hole was found are left out. */
  readonly startHoles: Readonly<Record<string, StartHolePlace>>;
  readonly slugHandling: Readonly<Record<string, SlugHandling>>;
  /** Only of pieces that keep a tab. */
  readonly tabMm: Readonly<Record<string, number>>;
  readonly order: readonly string[];
}

export interface KeepOut {
  readonly id: string;
  readonly label: string;
  readonly box: Box;
}

/** A burnable feature of the drawing. Bare numbers here are measured on the drawing. */
export interface WireFeature {
  /** `F1`, `F2` … in reading order. */
  readonly id: string;
  readonly kind: 'profile' | 'hole' | 'slot';
  /** `outline`: the part is inside. `opening`: the part is around it. `open`: an open cut. */
  readonly role: 'outline' | 'opening' | 'open';
  /** Open cuts only: always `left`, because the contour is turned so that the part is left of travel. */
  readonly partSide?: 'left' | 'right';
  readonly layer?: string;
  /** Exact; outlines counter-clockwise, openings clockwise, open cuts turned: the part is always left of travel. */
  readonly contour: Contour;
  readonly lengthMm: number;
  readonly areaMm2: number;
  /** Smallest radius of an inside (wire-side concave) arc; null when there is none. Sharp inside corners are listed apart. */
  readonly minInsideRadiusMm: number | null;
  readonly minInsideRadiusAt: Point | null;
  readonly sharpInsideCorners: readonly Point[];
  /** Diameter of the largest disc that still passes the narrowest place on the wire's side; null when nothing faces itself. */
  readonly narrowestMm: number | null;
  readonly narrowestAt: Point | null;
  /** Outline this feature belongs to (its part); null for outlines and open cuts. */
  readonly partOf: string | null;
}

/** One traverse at one energy level, the same for all features of the operation. */
export interface WirePass {
  readonly pass: number;
  readonly level: number;
  readonly levelName: string;
  readonly register: number;
  readonly gapMm: Figure;
  /** Stock this pass takes off per side beyond what it leaves; for the first pass the full kerf. */
  readonly stockMm: Figure;
  readonly offsetMm: Figure;
  readonly feedMmPerMin: Figure;
  /** Whole length of this pass over all features of one set-up, with lead-ins and tabs. */
  readonly pathMm: Figure;
  /** Burning time of this pass in one set-up. */
  readonly burnMin: Figure;
  readonly raUm: Figure;
  readonly recastUm: Figure;
}

export interface StartHole {
  /** `H1`, `H2` … */
  readonly id: string;
  readonly at: Point;
  readonly diameterMm: number;
  /** Features threaded through it. */
  readonly features: readonly string[];
  /** True when the cut starts from the plate edge instead (no hole drilled). */
  readonly fromEdge: boolean;
}

export interface Slug {
  readonly feature: string;
  /** `frame`: the waste stays clamped and the part comes off; `slug`: the waste comes off. */
  readonly piece: 'slug' | 'part';
  readonly massG: Figure;
  readonly handling: SlugHandling;
  readonly tabMm: Figure | null;
  /** Both ends of the tab on the contour, in direction of travel. */
  readonly tabFrom: Point | null;
  readonly tabTo: Point | null;
}

/** A moment that needs a person. */
export interface Touch {
  readonly id: string;
  readonly kind: 'set-up' | 'slug' | 'part' | 'unload' | 'check';
  readonly says: string;
  readonly min: Figure;
}

interface OperationBase {
  /** `10`, `20` … as on a route card. */
  readonly number: number;
  readonly title: string;
  readonly machineId: string;
  readonly touches: readonly Touch[];
  /** Ids of cautions; the process room has their texts. */
  readonly cautions: readonly string[];
  /** How many times this operation runs for the whole quantity. */
  readonly runs: number;
  /**
   * Machine running alone per run: burning, threading by itself, filling. While a person sets up, visits or unloads it
   * is occupied as well: both together are the time it is taken.
   */
  readonly machineMin: Figure;
  /** A person needed per run. */
  readonly attendedMin: Figure;
}

export interface WireOperation extends OperationBase {
  readonly process: 'wire';
  readonly wireId: string;
  readonly wireDiameterMm: number;
  /** Plates on top of each other in one run. */
  readonly stack: number;
  readonly burnHeightMm: number;
  readonly passes: readonly WirePass[];
  readonly startHoles: readonly StartHole[];
  readonly slugs: readonly Slug[];
  readonly keepOuts: readonly KeepOut[];
  readonly plate: Box;
  readonly agreedCornerRadiusMm: number;
  /** Ordered work as plain data; the program room turns it into text. */
  readonly steps: readonly ProgramStep[];
  readonly threadings: number;
  readonly wireUseM: Figure;
  readonly wireUseKg: Figure;
  /** Time with nobody there. */
  readonly unattendedMin: Figure;
}

export interface DrillOperation extends OperationBase {
  readonly process: 'drill';
  readonly passes: readonly [];
  readonly holes: readonly StartHole[];
}

export interface BenchOperation extends OperationBase {
  readonly process: 'other';
  readonly passes: readonly [];
}

export type Operation = WireOperation | DrillOperation | BenchOperation;

/** One wire (on its cheapest machine) that was planned to the end. */
export interface WireOption {
  readonly wireId: string;
  readonly machineId: string;
  readonly fits: boolean;
  /** Why it does not fit; empty when it does. */
  readonly problems: readonly Problem[];
  /** Burning time of the whole quantity. */
  readonly burnMin: Figure | null;
  /** Machine, labour, drilling, wire, use-up and material cost of the whole quantity, for comparing wires. */
  readonly comparisonCost: Figure | null;
  /** `overruled`: the chosen wire as the planner overruled it, beside the same wire as computed. */
  readonly marks: readonly ('cheapest' | 'fastest' | 'chosen' | 'overruled')[];
}

/** The whole answer to one request. Frozen; JSON can hold it through `packFigures`. */
export interface Plan {
  readonly request: WireRequest;
  readonly bookVersion: string;
  readonly features: readonly WireFeature[];
  /** Empty when a stop problem forbids the plan. */
  readonly operations: readonly Operation[];
  readonly wireOptions: readonly WireOption[];
  /** One for each wire operation, in their order. */
  readonly computed: readonly ComputedChoices[];
  readonly totals: {
    /** Burning time for the whole quantity. */
    readonly burnMin: Figure;
    readonly machineMin: Figure;
    readonly attendedMin: Figure;
    readonly touches: Figure;
  } | null;
  readonly problems: readonly Problem[];
}
