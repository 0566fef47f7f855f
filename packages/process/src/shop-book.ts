import type { Figure } from '@gapwright/base';

/** Broad kind of a work material; it decides nothing by itself, rates and cautions stand beside it. */
export type MaterialFamily =
  | 'tool steel'
  | 'carbon steel'
  | 'stainless steel'
  | 'titanium'
  | 'nickel alloy'
  | 'cobalt alloy'
  | 'aluminium'
  | 'copper alloy'
  | 'carbide'
  | 'graphite'
  | 'refractory metal'
  | 'ceramic';

/** A work material. Properties are room-temperature handbook values; melting is the solidus of an alloy. */
export interface Material {
  /** Short id such as `D2`; looked up without regard to case. */
  readonly id: string;
  readonly name: string;
  /** Other names the trade or a drawing uses, e.g. `1.2379`. */
  readonly aliases: readonly string[];
  readonly family: MaterialFamily;
  /** False for materials that spark erosion cannot cut; the plan refuses them. */
  readonly isConductive: boolean;
  /** Unit `g/cm3`. */
  readonly densityGPerCm3: Figure;
  /** Unit `degC`. */
  readonly meltingC: Figure;
  /** Unit `J/gK`. */
  readonly heatCapacityJPerGK: Figure;
  /** Heat of fusion (graphite: of sublimation), unit `J/g`. */
  readonly latentHeatJPerG: Figure;
  /** Unit `W/mK`. */
  readonly conductivityWPerMK: Figure;
  /** Unit `uohm*m`. */
  readonly resistivityUohmM: Figure;
  /** Wire area rate relative to plain steel of the same height, unit `1`, cause `material:ID`. */
  readonly wireRateFactor: Figure;
  /** Ra relative to plain steel at the same level, unit `1`; null where only the heat-of-melting law is known. */
  readonly raFactor: Figure | null;
  /** Feed of a 1 mm tube in a shallow hole, unit `mm/min`; null when the shop does not drill this material. */
  readonly drillFeedMmPerMin: Figure | null;
  /** Tube wear: length of tube used per length of hole, unit `1`; null as above. */
  readonly drillWearRatio: Figure | null;
  /** Ids into the caution list ({@link cautionsFor} gives the texts). */
  readonly cautions: readonly string[];
}

/** A wire kept in the shop. */
export interface Wire {
  /** e.g. `B25`: brass, 0.25 mm. */
  readonly id: string;
  readonly name: string;
  readonly kind: 'brass' | 'coated brass' | 'molybdenum' | 'tungsten';
  readonly diameterMm: number;
  /** The diameter as a figure for laws, unit `mm`, exact. */
  readonly diameter: Figure;
  readonly densityGPerCm3: Figure;
  /** Tension in use, unit `N`. */
  readonly tensionN: Figure;
  /** Tensile strength, unit `N/mm2`. */
  readonly strengthNPerMm2: Figure;
  /** Running speed, unit `m/min`. */
  readonly speedMPerMin: Figure;
  /** Unit `EUR/kg`. */
  readonly pricePerKg: Figure;
  /** Wire on a full spool, unit `kg`. */
  readonly spoolKg: Figure;
}

/** A wire-cutting machine of this shop. */
export interface WireMachine {
  readonly id: string;
  readonly name: string;
  readonly travelXMm: number;
  readonly travelYMm: number;
  /** Tallest work between the guides. */
  readonly maxHeightMm: number;
  readonly maxMassKg: number;
  /** Wires this machine can run. */
  readonly wireIds: readonly string[];
  /** Horizontal distance the wire must keep from clamps so that the guide heads pass. */
  readonly guideClearanceMm: number;
  /** Distance from a work face to the nearer wire guide, for the bow of the wire. */
  readonly guideToWorkMm: number;
  /** False: every threading needs a person. */
  readonly autoThread: boolean;
  /** One threading, unit `min`. */
  readonly threadMin: Figure;
  /** Filling and draining the tank once, unit `min`. */
  readonly fillMin: Figure;
  /** Unit `EUR/h`. */
  readonly ratePerH: Figure;
  /** Area rate relative to a modern machine, unit `1`, cause `machine:ID`. */
  readonly rateFactor: Figure;
}

/** A small-hole drilling machine of this shop. */
export interface DrillMachine {
  readonly id: string;
  readonly name: string;
  readonly travelXMm: number;
  readonly travelYMm: number;
  readonly maxDepthMm: number;
  /** Hole sizes this machine drills. */
  readonly holeSizesMm: readonly number[];
  /** Unit `EUR/h`. */
  readonly ratePerH: Figure;
  /** Set-up of one plate, unit `min`. */
  readonly setUpMin: Figure;
  /** Moving to a hole, touching off and breaking through, unit `min` per hole. */
  readonly perHoleMin: Figure;
  /** Feed relative to the material's figure, unit `1`, cause `machine:ID`. */
  readonly feedFactor: Figure;
}

/**
 * One energy level of wire cutting: what it does in plain steel, 50 mm high, with 0.25 mm brass wire.
 * Level 1 roughs; every later level is a skim.
 */
export interface WireLevel {
  /** 1 = rough. */
  readonly level: number;
  readonly name: string;
  /** Spark gap per side, unit `mm`. */
  readonly gapMm: Figure;
  /** Stock this level takes per side when it follows the level before it, unit `mm`; null for the rough level. */
  readonly stockMm: Figure | null;
  /** Unit `um`. */
  readonly raUm: Figure;
  /** Deepest recast layer usually left, unit `um`. */
  readonly recastUm: Figure;
  /** Profile accuracy, ± , unit `mm`. */
  readonly profileAccuracyMm: Figure;
  /** Area rate, unit `mm2/min`; null for skims. */
  readonly areaRateMm2PerMin: Figure | null;
  /** Linear feed, unit `mm/min`; null for the rough level. */
  readonly feedMmPerMin: Figure | null;
  /** Mean power in the gap, unit `W`; the removal ceiling starts from it. */
  readonly meanPowerW: Figure;
  /** Force of the process on the wire per length of work, unit `N/m`; bows the wire away from the cut. */
  readonly gapForceNPerM: Figure;
  /**
   * How far the wire, rather than the generator, limits the pulse energy, unit `1`: 1 = gap and Ra shrink fully with the
   * wire, 0 = not at all. The stock of the next level shrinks alike, as it takes off this level's traces.
   */
  readonly wireSensitivity: Figure;
}

/** One point of the table "area rate against height". */
export interface ThicknessPoint {
  readonly heightMm: Figure;
  /** Relative to the best height, unit `1`. */
  readonly factor: Figure;
}

/** Planning rules of the shop; every one is an editable default. */
export interface ShopRules {
  /** Material id that rates, Ra and gaps of the levels refer to. */
  readonly referenceMaterialId: string;
  /** Height the levels refer to, unit `mm`. */
  readonly referenceHeightMm: Figure;
  /** Least material between a cut and the edge of the plate or another cut, `mm`. */
  readonly minRimMm: Figure;
  /** Rim added around the drawing when no plate is stated, `mm`. */
  readonly plateRimMm: Figure;
  /** From the edge of a start hole to the contour, beyond the rough offset, `mm`. */
  readonly holeToContourMm: Figure;
  /** A start hole must be this much wider than the wire, `mm`. */
  readonly holeOverWireMm: Figure;
  /** Preferred start hole in wire diameters, `1`; smaller ones only for want of room. */
  readonly startHoleOverWireRatio: Figure;
  /** The preferred start hole is never smaller, `mm`. */
  readonly startHoleMinMm: Figure;
  /** Cut twice where a contour closes, `mm`. */
  readonly entryOverlapMm: Figure;
  /** Skim past both ends of a cut tab, `mm`. */
  readonly tabOverlapMm: Figure;
  /** Tab of a weightless slug, `mm`. */
  readonly tabBaseMm: Figure;
  /** Tab added per kilogram, `mm/kg`. */
  readonly tabPerKgMm: Figure;
  /** Tab never shorter, `mm`. */
  readonly tabMinMm: Figure;
  /** Tab never longer (heavier slugs are supported), `mm`. */
  readonly tabMaxMm: Figure;
  /** Slugs up to this mass may fall free, `g`. */
  readonly freeFallMassG: Figure;
  /** Slugs from this mass on are supported as well as tabbed, `g`. */
  readonly supportMassG: Figure;
  /** Slugs narrower than this may jam the wire: burn them whole, `mm`. */
  readonly noCoreSizeMm: Figure;
  /** How far clamps reach over the plate, `mm`. */
  readonly clampDepthMm: Figure;
  /** Width of one clamp along the edge, `mm`. */
  readonly clampWidthMm: Figure;
  /** Most plates on top of each other, `1`. */
  readonly maxStack: Figure;
  /** Tallest stack, `mm`. */
  readonly maxStackHeightMm: Figure;
  /** Share of the pass's accuracy that may use up the tolerance, `1`. */
  readonly toleranceShare: Figure;
  /** Area rate with a nozzle not sealed on the work, `1`. */
  readonly openNozzleFactor: Figure;
  /** Part of the area rate factor that skims feel: their feed goes with factor^exponent, `1`. */
  readonly skimMaterialExponent: Figure;
  /** Skim feed goes with (reference height / height)^exponent, `1`. */
  readonly skimHeightExponent: Figure;
  /** Material taken after burning where the recast must go, times the deepest recast, `1`. */
  readonly recastRemovalFactor: Figure;
  /** Share of the removal ceiling that deserves a warning, `1`. */
  readonly ceilingWarnShare: Figure;
  /** Overcut of a drilled start hole per side, `mm`. */
  readonly drillOvercutMm: Figure;
  /** Tube length lost to dressing per hole, `mm`. */
  readonly drillDressMm: Figure;
  /** Depth that halves the drilling feed, in hole diameters, `1`. */
  readonly drillHalfDepthRatio: Figure;
  /** Deepest hole in hole diameters, `1`. */
  readonly drillMaxDepthRatio: Figure;
}

/** Prices and times of the shop. */
export interface ShopRates {
  /** `EUR/h`. */
  readonly labourPerH: Figure;
  /** Attended set-up of one wire operation, `min`. */
  readonly setUpMin: Figure;
  /** Attended set-up of each further run of the same operation, `min`. */
  readonly repeatSetUpMin: Figure;
  /** Unloading and wiping one run, `min`. */
  readonly unloadMin: Figure;
  /** Programming once per job, `min`. */
  readonly programmingBaseMin: Figure;
  /** Programming per feature, `min`. */
  readonly programmingPerFeatureMin: Figure;
  /** `min` per measured characteristic. */
  readonly inspectionMinPerCharacteristic: Figure;
  /** One visit to a slug: stop, secure, cut the tab, take it out, `min`. */
  readonly slugVisitMin: Figure;
  /** Walking to the machine for a visit, `min`. */
  readonly visitMin: Figure;
  /** Cleaning and drying one part, `min`. */
  readonly cleaningMinPerPart: Figure;
  /** Share of the price kept as margin, `1`. */
  readonly marginRatio: Figure;
  /** Smallest order value, `EUR`. */
  readonly minimumOrder: Figure;
  /** Expected share of scrapped parts, `1`. */
  readonly scrapRatio: Figure;
  /** Filters, resin, power and dielectric per machine hour, `EUR/h`. */
  readonly consumablesPerH: Figure;
  /** Changing the drilling tube for another size and touching off again, `min`. */
  readonly tubeChangeMin: Figure;
  /** Tube for start holes, `EUR/m`. */
  readonly tubePerM: Figure;
  /** Material price by material id, `EUR/kg`. */
  readonly materialPricePerKg: Readonly<Record<string, Figure>>;
}

/** Everything about one shop that planning and costing need, resolved into figures. Deeply frozen. */
export interface ShopBook {
  readonly version: string;
  readonly name: string;
  /** What the reader must know about the book as a whole, e.g. that it is invented. */
  readonly notice: string;
  readonly currency: 'EUR';
  readonly materials: readonly Material[];
  readonly wires: readonly Wire[];
  readonly wireMachines: readonly WireMachine[];
  readonly drillMachines: readonly DrillMachine[];
  /** In order from level 1. */
  readonly wireLevels: readonly WireLevel[];
  /** Ascending in height. */
  readonly thicknessFactors: readonly ThicknessPoint[];
  /** Drilled sizes kept in the shop, ascending. */
  readonly startHoleSizesMm: readonly number[];
  readonly rules: ShopRules;
  readonly rates: ShopRates;
}
