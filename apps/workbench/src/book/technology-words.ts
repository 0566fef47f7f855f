import type { TechnologyQuantity } from '@gapwright/process';

/** Label and unit on screen; the engine room keeps the same names, so a new quantity fails to compile until it is named here. */
const WORDS: Readonly<Record<TechnologyQuantity, readonly [label: string, unit: string]>> = {
  gapVoltageV: ['gap voltage', 'V'],
  openVoltageV: ['open voltage', 'V'],
  servoVoltageV: ['servo voltage', 'V'],
  currentA: ['pulse current', 'A'],
  onTimeUs: ['on-time', 'µs'],
  offTimeUs: ['off-time', 'µs'],
  heightMm: ['height', 'mm'],
  depthMm: ['depth', 'mm'],
  frontalAreaMm2: ['frontal area', 'mm²'],
  toolMm: ['tool diameter', 'mm'],
  wireSpeedMPerMin: ['wire speed', 'm/min'],
  wireTensionN: ['wire tension', 'N'],
  removalMm3PerMin: ['removal rate', 'mm³/min'],
  areaRateMm2PerMin: ['area rate', 'mm²/min'],
  feedMmPerMin: ['feed', 'mm/min'],
  raUm: ['Ra', 'µm'],
  gapMm: ['gap per side', 'mm'],
  wearMm3PerMin: ['electrode wear', 'mm³/min'],
  wearRatio: ['electrode volume per work volume', ''],
  recastUm: ['recast layer', 'µm'],
};

/** `pulse current 5 A, on-time 20 µs`. */
export function quantityWords(values: Readonly<Record<string, number>>): string {
  return Object.entries(values)
    .map(([name, value]) => {
      const [label, unit] = (WORDS as Readonly<Record<string, readonly [string, string]>>)[name] ?? [name, ''];
      return `${label} ${value}${unit === '' ? '' : ` ${unit}`}`;
    })
    .join(', ');
}
