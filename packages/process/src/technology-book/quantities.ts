/** Ways of spark erosion a technology point can belong to. */
export type ErosionProcess = 'wire' | 'sinking' | 'small-hole';

/** Lowest and highest value that can be in practice; outside, the unit or the column must be wrong. */
type Possible = readonly [low: number, high: number];

interface QuantityEntry {
  readonly unit: string;
  readonly role: 'condition' | 'result';
  readonly says: string;
  readonly possible: Readonly<Record<ErosionProcess, Possible>>;
}

const everywhere = (low: number, high: number): Readonly<Record<ErosionProcess, Possible>> => ({
  wire: [low, high],
  sinking: [low, high],
  'small-hole': [low, high],
});

/**
 * What a technology point can state, in one unit each. The possible ranges are wide on purpose: they catch wrong units and
 * machine setting numbers, not unusual work.
 */
export const TECHNOLOGY_QUANTITIES = {
  gapVoltageV: { unit: 'V', role: 'condition', says: 'gap voltage', possible: everywhere(5, 100) },
  openVoltageV: { unit: 'V', role: 'condition', says: 'open voltage', possible: everywhere(10, 500) },
  servoVoltageV: { unit: 'V', role: 'condition', says: 'servo voltage', possible: everywhere(1, 200) },
  currentA: { unit: 'A', role: 'condition', says: 'pulse current', possible: everywhere(0.01, 1500) },
  onTimeUs: {
    unit: 'us',
    role: 'condition',
    says: 'on-time',
    // Wire cutting sparks for a microsecond or so; tens of microseconds are setting numbers.
    possible: { wire: [0.01, 20], sinking: [0.05, 5000], 'small-hole': [0.05, 1000] },
  },
  offTimeUs: {
    unit: 'us',
    role: 'condition',
    says: 'off-time',
    possible: { wire: [0.1, 500], sinking: [0.5, 5000], 'small-hole': [0.5, 2000] },
  },
  heightMm: { unit: 'mm', role: 'condition', says: 'burned height', possible: everywhere(0.1, 1000) },
  depthMm: { unit: 'mm', role: 'condition', says: 'depth', possible: everywhere(0.01, 1000) },
  frontalAreaMm2: { unit: 'mm2', role: 'condition', says: 'frontal area', possible: everywhere(0.001, 1e6) },
  toolMm: {
    unit: 'mm',
    role: 'condition',
    says: 'tool diameter',
    possible: { wire: [0.01, 0.5], sinking: [0.01, 1000], 'small-hole': [0.05, 10] },
  },
  wireSpeedMPerMin: { unit: 'm/min', role: 'condition', says: 'wire speed', possible: everywhere(0.1, 1000) },
  wireTensionN: { unit: 'N', role: 'condition', says: 'wire tension', possible: everywhere(0.05, 60) },
  removalMm3PerMin: { unit: 'mm3/min', role: 'result', says: 'removal rate', possible: everywhere(1e-6, 20_000) },
  areaRateMm2PerMin: { unit: 'mm2/min', role: 'result', says: 'area rate', possible: everywhere(0.01, 1500) },
  feedMmPerMin: { unit: 'mm/min', role: 'result', says: 'feed', possible: everywhere(1e-3, 300) },
  raUm: { unit: 'um', role: 'result', says: 'Ra', possible: everywhere(0.005, 60) },
  gapMm: { unit: 'mm', role: 'result', says: 'gap per side', possible: everywhere(0.0005, 1) },
  wearMm3PerMin: { unit: 'mm3/min', role: 'result', says: 'electrode wear', possible: everywhere(1e-9, 20_000) },
  wearRatio: { unit: '1', role: 'result', says: 'electrode volume per work volume', possible: everywhere(1e-6, 20) },
  recastUm: { unit: 'um', role: 'result', says: 'recast layer', possible: everywhere(0.01, 500) },
} as const satisfies Record<string, QuantityEntry>;

/** Name of a quantity; the name carries its unit. */
export type TechnologyQuantity = keyof typeof TECHNOLOGY_QUANTITIES;

/** Quantities in the order they are listed above. */
export const TECHNOLOGY_QUANTITY_NAMES = Object.freeze(
  Object.keys(TECHNOLOGY_QUANTITIES),
) as readonly TechnologyQuantity[];

/** Whether a quantity is set before the burn or measured after it. */
export function roleOf(quantity: TechnologyQuantity): 'condition' | 'result' {
  return TECHNOLOGY_QUANTITIES[quantity].role;
}

/** A written value with its unit; a plain ratio has none to write. */
export function withUnit(value: string, quantity: TechnologyQuantity): string {
  const { unit } = TECHNOLOGY_QUANTITIES[quantity];
  return unit === '1' ? value : `${value} ${unit}`;
}
