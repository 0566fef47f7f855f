import { type Problem, problem, type Result } from '@gapwright/base';

/** What a unit measures. Two units convert when they measure the same, and mass rates to volume rates with a density. */
export type Measure =
  | 'time'
  | 'length'
  | 'area'
  | 'area rate'
  | 'volume rate'
  | 'mass rate'
  | 'speed'
  | 'voltage'
  | 'current'
  | 'force'
  | 'power'
  | 'ratio';

interface UnitEntry {
  readonly measure: Measure;
  /** Size in the base unit of the measure: s, m, m², m²/s, m³/s, kg/s, m/s, V, A, N, W, 1. */
  readonly size: number;
}

const INCH_M = 0.0254;
const POUND_KG = 0.45359237;
const STANDARD_GRAVITY = 9.80665;
const MIN_S = 60;
const HOUR_S = 3600;

const entries = (measure: Measure, sizes: Readonly<Record<string, number>>): [string, UnitEntry][] =>
  Object.entries(sizes).map(([unit, size]) => [unit, { measure, size }]);

/**
 * Every unit the import knows, spelled exactly; case matters, so that `MS` or `Us` never passes for something it is not.
 * The micro sign and the Greek letter are read as `u`.
 */
const UNITS: ReadonlyMap<string, UnitEntry> = new Map([
  ...entries('time', { ns: 1e-9, us: 1e-6, ms: 1e-3, s: 1, min: MIN_S, h: HOUR_S }),
  ...entries('length', {
    nm: 1e-9,
    um: 1e-6,
    mm: 1e-3,
    cm: 1e-2,
    m: 1,
    in: INCH_M,
    mil: INCH_M / 1000,
    uin: INCH_M * 1e-6,
  }),
  ...entries('area', { mm2: 1e-6, cm2: 1e-4, in2: INCH_M ** 2 }),
  ...entries('area rate', {
    'mm2/min': 1e-6 / MIN_S,
    'mm2/h': 1e-6 / HOUR_S,
    'in2/h': INCH_M ** 2 / HOUR_S,
    'in2/min': INCH_M ** 2 / MIN_S,
  }),
  ...entries('volume rate', {
    'mm3/s': 1e-9,
    'mm3/min': 1e-9 / MIN_S,
    'mm3/h': 1e-9 / HOUR_S,
    'cm3/min': 1e-6 / MIN_S,
    'cm3/h': 1e-6 / HOUR_S,
    'in3/min': INCH_M ** 3 / MIN_S,
    'in3/h': INCH_M ** 3 / HOUR_S,
  }),
  ...entries('mass rate', {
    'mg/min': 1e-6 / MIN_S,
    'g/min': 1e-3 / MIN_S,
    'g/h': 1e-3 / HOUR_S,
    'kg/h': 1 / HOUR_S,
    'lb/h': POUND_KG / HOUR_S,
  }),
  ...entries('speed', {
    'mm/s': 1e-3,
    'mm/min': 1e-3 / MIN_S,
    'mm/h': 1e-3 / HOUR_S,
    'm/s': 1,
    'm/min': 1 / MIN_S,
    'in/min': INCH_M / MIN_S,
  }),
  ...entries('voltage', { mV: 1e-3, V: 1, kV: 1e3 }),
  ...entries('current', { mA: 1e-3, A: 1, kA: 1e3 }),
  ...entries('force', { N: 1, gf: 1e-3 * STANDARD_GRAVITY, kgf: STANDARD_GRAVITY }),
  ...entries('power', { W: 1, kW: 1e3 }),
  ...entries('ratio', { '1': 1, '%': 0.01 }),
]);

/** All unit words, for messages and for checking them against an independent library. */
export function knownUnits(): readonly string[] {
  return [...UNITS.keys()];
}

/** The unit word with micro signs and superscripts in plain letters, e.g. `µm` to `um`, `mm²/min` to `mm2/min`. */
export function plainUnit(unit: string): string {
  return unit.trim().replaceAll(/[µμ]/g, 'u').replaceAll('²', '2').replaceAll('³', '3');
}

/** What a unit measures; null for an unknown word. */
export function measureOf(unit: string): Measure | null {
  return UNITS.get(plainUnit(unit))?.measure ?? null;
}

/** Units that measure the same as `unit`. */
export function unitsLike(unit: string): readonly string[] {
  const measure = measureOf(unit);
  return [...UNITS].filter(([, entry]) => entry.measure === measure).map(([word]) => word);
}

/**
 * The factor that turns a number in `from` into a number in `to`. A mass rate becomes a volume rate with a density in
 * g/cm³. Stops `TECH-UNIT-UNKNOWN`, `TECH-UNIT-MISMATCH`, `TECH-DENSITY-MISSING`.
 */
export function unitFactor(from: string, to: string, densityGPerCm3?: number): Result<number> {
  const stop = (code: string, what: string, fix: string): Result<number> => {
    const problems: Problem[] = [problem({ code, severity: 'stop', what, fix })];
    return { value: null, problems };
  };
  const source = UNITS.get(plainUnit(from));
  const target = UNITS.get(plainUnit(to));
  if (source === undefined || target === undefined) {
    const word = source === undefined ? from : to;
    return stop(
      'TECH-UNIT-UNKNOWN',
      `"${word}" is not a unit this import knows`,
      `Use one of ${knownUnits().join(', ')}`,
    );
  }
  if (source.measure === target.measure) return { value: source.size / target.size, problems: [] };
  if (source.measure === 'mass rate' && target.measure === 'volume rate') {
    if (densityGPerCm3 === undefined || !(densityGPerCm3 > 0)) {
      return stop('TECH-DENSITY-MISSING', `${from} becomes ${to} only with a density`, 'State the density in g/cm3');
    }
    return { value: source.size / (densityGPerCm3 * 1000) / target.size, problems: [] };
  }
  const what = `${from} is a ${source.measure}, ${to} a ${target.measure}`;
  return stop('TECH-UNIT-MISMATCH', what, `Use one of ${unitsLike(to).join(', ')}`);
}
