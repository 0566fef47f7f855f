/** How one entry of the book is shown and typed. */
export interface BookField {
  readonly key: string;
  readonly label: string;
  readonly unit?: string;
  /**
   * `quantity`: value, source, doubt and note. `plain`: a bare number. `count`: a whole one. `list`: numbers or words with
   * commas between. `key`: the id other entries use.
   */
  readonly kind:
    | 'quantity'
    | 'plain'
    | 'count'
    | 'text'
    | 'yes or no'
    | 'numbers'
    | 'words'
    | 'choice'
    | 'key'
    | 'source';
  readonly mayBeEmpty?: boolean;
  readonly choices?: readonly string[];
  /** One sentence where the label does not say enough. */
  readonly says?: string;
}

/** One leaf of the book. */
export interface BookLeaf {
  readonly id: string;
  readonly title: string;
  readonly says: string;
  /** `list`: one row per entry. `single`: one row per field of an object. `prices`: one row per material. `sizes`: a list of numbers. */
  readonly shape: 'list' | 'single' | 'prices' | 'sizes';
  readonly path: readonly string[];
  readonly fields: readonly BookField[];
  /** Name of a new row, e.g. `wire`. */
  readonly rowName?: string;
}

const q = (key: string, label: string, unit = '', says?: string): BookField => ({
  key,
  label,
  kind: 'quantity',
  ...(unit === '' ? {} : { unit }),
  ...(says === undefined ? {} : { says }),
});
const optional = (field: BookField): BookField => ({ ...field, mayBeEmpty: true });
const plain = (key: string, label: string, unit: string): BookField => ({ key, label, unit, kind: 'plain' });
const id: BookField = { key: 'id', label: 'Short name', kind: 'key' };
const name: BookField = { key: 'name', label: 'Name', kind: 'text' };

const FAMILIES = [
  'tool steel',
  'carbon steel',
  'stainless steel',
  'titanium',
  'nickel alloy',
  'cobalt alloy',
  'aluminium',
  'copper alloy',
  'carbide',
  'graphite',
  'refractory metal',
  'ceramic',
];

/** The shop book, leaf by leaf. */
export const LEAVES: readonly BookLeaf[] = [
  {
    id: 'shop',
    title: 'Shop',
    says: 'Who this book belongs to, and what a reader must know about it as a whole.',
    shape: 'single',
    path: [],
    fields: [
      name,
      { key: 'notice', label: 'Notice', kind: 'text' },
      { key: 'version', label: 'Version', kind: 'text', says: 'Printed on every paper.' },
      { key: 'currency', label: 'Currency', kind: 'choice', choices: ['EUR'] },
    ],
  },
  {
    id: 'wire-machines',
    title: 'Wire machines',
    says: 'What each wire machine can hold and run, and what an hour of it costs.',
    shape: 'list',
    path: ['wireMachines'],
    rowName: 'wire machine',
    fields: [
      id,
      name,
      plain('travelXMm', 'Travel X', 'mm'),
      plain('travelYMm', 'Travel Y', 'mm'),
      plain('maxHeightMm', 'Tallest work', 'mm'),
      plain('maxMassKg', 'Heaviest work', 'kg'),
      { key: 'wireIds', label: 'Wires', kind: 'words', says: 'Short names of the wires it can run.' },
      plain('guideClearanceMm', 'Guide to clamp', 'mm'),
      plain('guideToWorkMm', 'Guide to work', 'mm'),
      { key: 'autoThread', label: 'Threads by itself', kind: 'yes or no' },
      q('threadMin', 'Threading', 'min'),
      q('fillMin', 'Fill and drain', 'min'),
      q('ratePerH', 'Rate', 'EUR/h'),
      q('rateFactor', 'Speed factor', '', 'Area rate relative to a modern machine; learnt from burns.'),
    ],
  },
  {
    id: 'drill-machines',
    title: 'Small-hole machines',
    says: 'Machines that drill start holes and small holes with a tube.',
    shape: 'list',
    path: ['drillMachines'],
    rowName: 'small-hole machine',
    fields: [
      id,
      name,
      plain('travelXMm', 'Travel X', 'mm'),
      plain('travelYMm', 'Travel Y', 'mm'),
      plain('maxDepthMm', 'Deepest hole', 'mm'),
      { key: 'holeSizesMm', label: 'Hole sizes', unit: 'mm', kind: 'numbers' },
      q('ratePerH', 'Rate', 'EUR/h'),
      q('setUpMin', 'Set-up', 'min'),
      q('perHoleMin', 'Per hole', 'min', 'Moving, touching off and breaking through.'),
      q('feedFactor', 'Speed factor'),
    ],
  },
  {
    id: 'wires',
    title: 'Wires',
    says: 'Wires kept in the shop.',
    shape: 'list',
    path: ['wires'],
    rowName: 'wire',
    fields: [
      id,
      name,
      { key: 'kind', label: 'Kind', kind: 'choice', choices: ['brass', 'coated brass', 'molybdenum', 'tungsten'] },
      plain('diameterMm', 'Diameter', 'mm'),
      { key: 'diameterSource', label: 'Source of the diameter', kind: 'source' },
      q('tensionN', 'Tension', 'N'),
      q('strengthNPerMm2', 'Strength', 'N/mm²'),
      q('speedMPerMin', 'Running speed', 'm/min'),
      q('densityGPerCm3', 'Density', 'g/cm³'),
      q('spoolKg', 'Full spool', 'kg'),
      q('pricePerKg', 'Price', 'EUR/kg'),
    ],
  },
  {
    id: 'materials',
    title: 'Materials',
    says: 'Work materials: how they burn relative to plain steel, and their properties.',
    shape: 'list',
    path: ['materials'],
    rowName: 'material',
    fields: [
      id,
      name,
      { key: 'aliases', label: 'Other names', kind: 'words' },
      { key: 'family', label: 'Family', kind: 'choice', choices: FAMILIES },
      { key: 'isConductive', label: 'Conducts', kind: 'yes or no' },
      q(
        'wireRateFactor',
        'Burns by wire',
        '',
        'Area rate relative to plain steel of the same height; learnt from burns.',
      ),
      optional(
        q(
          'raFactor',
          'Ra factor',
          '',
          'Ra relative to plain steel at the same level; empty: from its heat of melting.',
        ),
      ),
      optional(q('drillFeedMmPerMin', 'Drilling feed', 'mm/min')),
      optional(q('drillWearRatio', 'Tube wear')),
      q('densityGPerCm3', 'Density', 'g/cm³'),
      q('meltingC', 'Melts at', '°C'),
      q('heatCapacityJPerGK', 'Heat capacity', 'J/(g K)'),
      q('latentHeatJPerG', 'Heat of fusion', 'J/g'),
      q('conductivityWPerMK', 'Heat conductivity', 'W/(m K)'),
      q('resistivityUohmM', 'Resistivity', 'µΩ m'),
      { key: 'cautions', label: 'Cautions', kind: 'words' },
    ],
  },
  {
    id: 'material-prices',
    title: 'Material prices',
    says: 'What a kilogram costs; every material needs one.',
    shape: 'prices',
    path: ['rates', 'materialPricePerKg'],
    fields: [q('', 'Price', 'EUR/kg')],
  },
  {
    id: 'levels',
    title: 'Energy levels',
    says: 'What each level of the pass ladder does in plain steel, 50 mm high, with 0.25 mm brass wire. Level 1 roughs.',
    shape: 'list',
    path: ['wireLevels'],
    rowName: 'level',
    fields: [
      { key: 'level', label: 'Level', kind: 'count' },
      name,
      q('gapMm', 'Gap', 'mm'),
      optional(q('stockMm', 'Stock taken', 'mm', 'Taken per side after the level before; the rough level has none.')),
      q('raUm', 'Ra', 'µm'),
      q('recastUm', 'Recast', 'µm'),
      q('profileAccuracyMm', 'Accuracy ±', 'mm'),
      optional(q('areaRateMm2PerMin', 'Area rate', 'mm²/min')),
      optional(q('feedMmPerMin', 'Feed', 'mm/min')),
      q('meanPowerW', 'Mean power', 'W'),
      q('gapForceNPerM', 'Force on the wire', 'N/m'),
      q('wireSensitivity', 'Follows the wire', '', '1: gap and Ra shrink fully with a thinner wire; 0: not at all.'),
    ],
  },
  {
    id: 'heights',
    title: 'Height factors',
    says: 'Area rate against height, relative to the best height.',
    shape: 'list',
    path: ['thicknessFactors'],
    rowName: 'height',
    fields: [q('heightMm', 'Height', 'mm'), q('factor', 'Factor')],
  },
  {
    id: 'hole-sizes',
    title: 'Start-hole sizes',
    says: 'Drilled sizes kept in the shop.',
    shape: 'sizes',
    path: ['startHoleSizesMm'],
    fields: [{ key: '', label: 'Sizes', unit: 'mm', kind: 'numbers' }],
  },
  {
    id: 'rules',
    title: 'Planning rules',
    says: 'The shop’s own rules; every one is a default that a job may overrule.',
    shape: 'single',
    path: ['rules'],
    fields: [
      {
        key: 'referenceMaterialId',
        label: 'Reference material',
        kind: 'text',
        says: 'Factors of all materials are relative to it.',
      },
      q('referenceHeightMm', 'Reference height', 'mm'),
      q('minRimMm', 'Least rim', 'mm', 'Between a cut and the edge of the plate or another cut.'),
      q('plateRimMm', 'Rim around the drawing', 'mm', 'When no plate is stated.'),
      q('holeToContourMm', 'Start hole to contour', 'mm'),
      q('holeOverWireMm', 'Start hole wider than the wire by', 'mm'),
      q('startHoleOverWireRatio', 'Preferred start hole in wire diameters'),
      q('startHoleMinMm', 'Preferred start hole at least', 'mm'),
      q('entryOverlapMm', 'Overlap where a contour closes', 'mm'),
      q('tabOverlapMm', 'Skim past the tab', 'mm'),
      q('tabBaseMm', 'Tab of a weightless slug', 'mm'),
      q('tabPerKgMm', 'Tab added per kilogram', 'mm/kg'),
      q('tabMinMm', 'Tab at least', 'mm'),
      q('tabMaxMm', 'Tab at most', 'mm'),
      q('freeFallMassG', 'May fall free up to', 'g'),
      q('supportMassG', 'Supported from', 'g'),
      q('noCoreSizeMm', 'Slug may jam below', 'mm'),
      q('clampDepthMm', 'Clamp reaches in', 'mm'),
      q('clampWidthMm', 'Clamp width', 'mm'),
      q('maxStack', 'Most plates in a stack'),
      q('maxStackHeightMm', 'Tallest stack', 'mm'),
      q('toleranceShare', 'Share of the tolerance to use'),
      q('openNozzleFactor', 'Area rate with an open nozzle'),
      q('skimMaterialExponent', 'Skims feel the material'),
      q('skimHeightExponent', 'Skims feel the height'),
      q('recastRemovalFactor', 'Removed where recast must go', '', 'Times the deepest recast.'),
      q('ceilingWarnShare', 'Warn from this share of the removal ceiling'),
      q('drillOvercutMm', 'Overcut of a start hole', 'mm'),
      q('drillDressMm', 'Tube lost to dressing', 'mm'),
      q('drillHalfDepthRatio', 'Depth that halves the feed', '', 'In hole diameters.'),
      q('drillMaxDepthRatio', 'Deepest hole', '', 'In hole diameters.'),
    ],
  },
  {
    id: 'rates',
    title: 'Rates and times',
    says: 'What people and their work cost, and the margin rule.',
    shape: 'single',
    path: ['rates'],
    fields: [
      q('labourPerH', 'Labour', 'EUR/h'),
      q('setUpMin', 'Set-up of a wire operation', 'min'),
      q('repeatSetUpMin', 'Each further run', 'min'),
      q('unloadMin', 'Unloading a run', 'min'),
      q('programmingBaseMin', 'Programming a job', 'min'),
      q('programmingPerFeatureMin', 'Programming a feature', 'min'),
      q('inspectionMinPerCharacteristic', 'Measuring a characteristic', 'min'),
      q('slugVisitMin', 'Visit to a slug', 'min'),
      q('visitMin', 'Walking to a machine', 'min'),
      q('cleaningMinPerPart', 'Cleaning a part', 'min'),
      q('marginRatio', 'Margin', '', 'Share of the price.'),
      q('minimumOrder', 'Smallest order', 'EUR'),
      q('scrapRatio', 'Expected scrap', '', 'Share of the parts.'),
      q('consumablesPerH', 'Filters, resin, power', 'EUR/h'),
      q('tubeChangeMin', 'Changing the tube', 'min'),
      q('tubePerM', 'Tube', 'EUR/m'),
    ],
  },
  {
    id: 'sources',
    title: 'Sources',
    says: 'Where the values come from and how well each source stands.',
    shape: 'list',
    path: ['sources'],
    rowName: 'source',
    fields: [
      id,
      { key: 'title', label: 'Title', kind: 'text' },
      {
        key: 'standing',
        label: 'Standing',
        kind: 'choice',
        choices: ['published', 'from memory', 'common practice', 'computed', 'shop', 'job'],
      },
      { key: 'where', label: 'Where', kind: 'text', mayBeEmpty: true },
    ],
  },
];
