/** Unit, plain words and plausible range of one kind of value in the shop book. */
export interface QuantityKind {
  readonly unit: string;
  /** Completes "… of D2", e.g. `Density`. */
  readonly says: string;
  /** Values outside are taken for a slip of the pen and refused. */
  readonly range: readonly [low: number, high: number];
}

/** Properties of a material that must be given. */
export const MATERIAL_QUANTITIES = {
  densityGPerCm3: { unit: 'g/cm3', says: 'Density', range: [0.5, 25] },
  meltingC: { unit: 'degC', says: 'Melting point', range: [100, 4500] },
  heatCapacityJPerGK: { unit: 'J/gK', says: 'Heat capacity', range: [0.05, 5] },
  latentHeatJPerG: { unit: 'J/g', says: 'Heat of melting', range: [10, 100_000] },
  conductivityWPerMK: { unit: 'W/mK', says: 'Heat conductivity', range: [0.1, 3000] },
  resistivityUohmM: { unit: 'uohm*m', says: 'Electrical resistivity', range: [0.001, 1e24] },
  wireRateFactor: { unit: '1', says: 'Wire area rate relative to plain steel', range: [0.01, 10] },
} as const satisfies Record<string, QuantityKind>;

/** Properties of a material that may be null. */
export const MATERIAL_OPTIONAL_QUANTITIES = {
  raFactor: { unit: '1', says: 'Ra relative to plain steel at the same level', range: [0.1, 10] },
  drillFeedMmPerMin: { unit: 'mm/min', says: 'Drilling feed of a 1 mm tube', range: [0.1, 200] },
  drillWearRatio: { unit: '1', says: 'Tube length used per length of hole', range: [0.01, 20] },
} as const satisfies Record<string, QuantityKind>;

export const WIRE_QUANTITIES = {
  densityGPerCm3: { unit: 'g/cm3', says: 'Density', range: [1, 25] },
  tensionN: { unit: 'N', says: 'Tension in use', range: [0.1, 60] },
  strengthNPerMm2: { unit: 'N/mm2', says: 'Tensile strength', range: [100, 5000] },
  speedMPerMin: { unit: 'm/min', says: 'Running speed', range: [0.1, 30] },
  pricePerKg: { unit: 'EUR/kg', says: 'Price', range: [0, 10_000] },
  spoolKg: { unit: 'kg', says: 'Wire on a full spool', range: [0.1, 50] },
} as const satisfies Record<string, QuantityKind>;

export const WIRE_MACHINE_QUANTITIES = {
  threadMin: { unit: 'min', says: 'One threading', range: [0, 60] },
  fillMin: { unit: 'min', says: 'Filling and draining once', range: [0, 120] },
  ratePerH: { unit: 'EUR/h', says: 'Machine rate', range: [0, 2000] },
  rateFactor: { unit: '1', says: 'Area rate relative to a modern machine', range: [0.05, 3] },
} as const satisfies Record<string, QuantityKind>;

export const DRILL_MACHINE_QUANTITIES = {
  ratePerH: { unit: 'EUR/h', says: 'Machine rate', range: [0, 2000] },
  setUpMin: { unit: 'min', says: 'Set-up of one plate', range: [0, 600] },
  perHoleMin: { unit: 'min', says: 'Moving, touching off and breaking through, per hole', range: [0, 60] },
  feedFactor: { unit: '1', says: "Feed relative to the material's figure", range: [0.05, 5] },
} as const satisfies Record<string, QuantityKind>;

/** Values every wire level gives. */
export const LEVEL_QUANTITIES = {
  gapMm: { unit: 'mm', says: 'Spark gap per side', range: [0.0005, 0.3] },
  raUm: { unit: 'um', says: 'Ra', range: [0.01, 20] },
  recastUm: { unit: 'um', says: 'Deepest recast layer usually left', range: [0.05, 200] },
  profileAccuracyMm: { unit: 'mm', says: 'Profile accuracy (±)', range: [0.0005, 0.5] },
  meanPowerW: { unit: 'W', says: 'Mean power in the gap', range: [0.01, 20_000] },
  wireSensitivity: { unit: '1', says: 'How far the wire limits the pulse energy', range: [0, 1] },
  gapForceNPerM: { unit: 'N/m', says: 'Process force on the wire', range: [0, 50] },
} as const satisfies Record<string, QuantityKind>;

/** Values only the rough level (area rate) or only the skims (stock, feed) give; null otherwise. */
export const LEVEL_OPTIONAL_QUANTITIES = {
  stockMm: { unit: 'mm', says: 'Stock taken per side', range: [0.0001, 0.5] },
  areaRateMm2PerMin: { unit: 'mm2/min', says: 'Area rate', range: [0.5, 2000] },
  feedMmPerMin: { unit: 'mm/min', says: 'Feed', range: [0.05, 100] },
} as const satisfies Record<string, QuantityKind>;

export const THICKNESS_QUANTITIES = {
  heightMm: { unit: 'mm', says: 'Work height', range: [0.1, 2000] },
  factor: { unit: '1', says: 'Area rate relative to the best height', range: [0.01, 2] },
} as const satisfies Record<string, QuantityKind>;

export const RULE_QUANTITIES = {
  referenceHeightMm: { unit: 'mm', says: 'Height the levels refer to', range: [1, 500] },
  minRimMm: { unit: 'mm', says: 'Least material between a cut and an edge or another cut', range: [0, 100] },
  plateRimMm: { unit: 'mm', says: 'Rim added around the drawing when no plate is stated', range: [0, 200] },
  holeToContourMm: { unit: 'mm', says: 'Start hole edge to contour beyond the rough offset', range: [0, 50] },
  holeOverWireMm: { unit: 'mm', says: 'How much wider than the wire a start hole must be', range: [0, 5] },
  startHoleOverWireRatio: { unit: '1', says: 'Preferred start hole in wire diameters', range: [1, 50] },
  startHoleMinMm: { unit: 'mm', says: 'Smallest preferred start hole', range: [0.1, 10] },
  entryOverlapMm: { unit: 'mm', says: 'Cut twice where a contour closes', range: [0, 20] },
  tabOverlapMm: { unit: 'mm', says: 'Skim past both ends of a cut tab', range: [0, 20] },
  tabBaseMm: { unit: 'mm', says: 'Tab of a weightless slug', range: [0, 50] },
  tabPerKgMm: { unit: 'mm/kg', says: 'Tab added per kilogram', range: [0, 50] },
  tabMinMm: { unit: 'mm', says: 'Shortest tab', range: [0, 50] },
  tabMaxMm: { unit: 'mm', says: 'Longest tab', range: [0.1, 100] },
  freeFallMassG: { unit: 'g', says: 'Heaviest slug that may fall free', range: [0, 10_000] },
  supportMassG: { unit: 'g', says: 'Lightest slug that needs support as well as a tab', range: [0, 100_000] },
  noCoreSizeMm: { unit: 'mm', says: 'Slugs narrower than this are burned whole', range: [0, 50] },
  clampDepthMm: { unit: 'mm', says: 'Reach of a clamp over the plate', range: [0, 200] },
  clampWidthMm: { unit: 'mm', says: 'Width of a clamp along the edge', range: [0, 500] },
  maxStack: { unit: '1', says: 'Most plates on top of each other', range: [1, 1000] },
  maxStackHeightMm: { unit: 'mm', says: 'Tallest stack', range: [0.1, 600] },
  toleranceShare: { unit: '1', says: 'Share of the tolerance the last pass may use up', range: [0.05, 1] },
  openNozzleFactor: { unit: '1', says: 'Area rate with a nozzle not sealed on the work', range: [0.05, 1] },
  skimMaterialExponent: { unit: '1', says: 'How strongly skim feed follows the material factor', range: [0, 1] },
  skimHeightExponent: { unit: '1', says: 'How strongly skim feed falls with height', range: [0, 1] },
  recastRemovalFactor: { unit: '1', says: 'Material to take off, times the deepest recast', range: [1, 20] },
  ceilingWarnShare: { unit: '1', says: 'Share of the removal ceiling that deserves a warning', range: [0.01, 1] },
  drillOvercutMm: { unit: 'mm', says: 'Overcut of a drilled hole per side', range: [0, 1] },
  drillDressMm: { unit: 'mm', says: 'Tube length lost to dressing per hole', range: [0, 20] },
  drillHalfDepthRatio: {
    unit: '1',
    says: 'Depth that halves the drilling feed, in hole diameters',
    range: [1, 10_000],
  },
  drillMaxDepthRatio: { unit: '1', says: 'Deepest hole in hole diameters', range: [1, 1000] },
} as const satisfies Record<string, QuantityKind>;

export const RATE_QUANTITIES = {
  labourPerH: { unit: 'EUR/h', says: 'Labour', range: [0, 1000] },
  setUpMin: { unit: 'min', says: 'Attended set-up of one wire operation', range: [0, 1000] },
  repeatSetUpMin: { unit: 'min', says: 'Attended set-up of each further run', range: [0, 1000] },
  unloadMin: { unit: 'min', says: 'Unloading one run', range: [0, 1000] },
  programmingBaseMin: { unit: 'min', says: 'Programming once per job', range: [0, 10_000] },
  programmingPerFeatureMin: { unit: 'min', says: 'Programming per feature', range: [0, 1000] },
  inspectionMinPerCharacteristic: { unit: 'min', says: 'Inspection per characteristic', range: [0, 1000] },
  slugVisitMin: { unit: 'min', says: 'Securing, cutting and taking out one slug', range: [0, 1000] },
  visitMin: { unit: 'min', says: 'Walking to the machine for a visit', range: [0, 1000] },
  cleaningMinPerPart: { unit: 'min', says: 'Cleaning and drying one part', range: [0, 1000] },
  marginRatio: { unit: '1', says: 'Share of the price kept as margin', range: [0, 0.95] },
  minimumOrder: { unit: 'EUR', says: 'Smallest order value', range: [0, 100_000] },
  scrapRatio: { unit: '1', says: 'Expected share of scrapped parts', range: [0, 0.9] },
  consumablesPerH: { unit: 'EUR/h', says: 'Filters, resin, power and water per machine hour', range: [0, 1000] },
  tubeChangeMin: { unit: 'min', says: 'Changing the drilling tube and touching off again', range: [0, 600] },
  tubePerM: { unit: 'EUR/m', says: 'Tube for start holes', range: [0, 1000] },
} as const satisfies Record<string, QuantityKind>;

/** Price of a material. */
export const MATERIAL_PRICE: QuantityKind = { unit: 'EUR/kg', says: 'Material price', range: [0, 10_000] };
