import { type LengthUnit, lengthNumber, lengthText, minutesText, moneyText, trim } from '../../units/index.js';

/** How a ratio is read; other units say it themselves. */
export type FigureReading = 'plain' | 'share' | 'count';

const UNIT_SIGNS: Readonly<Record<string, string>> = {
  um: 'µm',
  'mm2/min': 'mm²/min',
  mm2: 'mm²',
  'J/mm3': 'J/mm³',
  'g/cm3': 'g/cm³',
  'N/mm2': 'N/mm²',
  degC: '°C',
  'J/gK': 'J/(g K)',
};

const MICROINCH_PER_UM = 39.3700787;

/** A unit as it is written on the page. */
export function unitSign(unit: string, display: LengthUnit): string {
  if (unit === '1') return '';
  if (display === 'inch') {
    if (unit === 'mm') return 'in';
    if (unit === 'mm/min') return 'in/min';
    if (unit === 'um') return 'µin';
  }
  return UNIT_SIGNS[unit] ?? unit;
}

/** Significant digits that a planner can use; more would feign certainty. */
const DIGITS = 4;

function significant(value: number): string {
  if (value === 0) return '0';
  return String(Number(value.toPrecision(DIGITS)));
}

/** Letters of a currency, as ISO 4217 has them. */
const isCurrency = (unit: string): boolean => /^[A-Z]{3}$/.test(unit);

/** Gaps and offsets need tenths of a micrometre to add up on the page; long paths do not. */
function lengthDigits(mm: number, display: LengthUnit): number {
  const size = Math.abs(mm);
  const inMm = size < 1 ? 4 : size < 10 ? 3 : size < 1000 ? 2 : 0;
  return display === 'mm' ? inMm : inMm + 1;
}

/** The number alone, as it stands in a column whose head gives the unit. Times and money keep their own words. */
export function numberWords(
  value: number,
  unit: string,
  display: LengthUnit,
  reading: FigureReading = 'plain',
): string {
  if (!Number.isFinite(value)) return '–';
  if (unit === 'min') return minutesText(value);
  if (isCurrency(unit)) return moneyText(value, unit);
  if (unit === 'mm') return lengthNumber(value, display, lengthDigits(value, display));
  if (unit === 'mm/min' && display === 'inch') return significant(value / 25.4);
  if (unit === 'um') {
    return display === 'inch' ? trim(value * MICROINCH_PER_UM, 1) : trim(value, value < 1 ? 3 : 2);
  }
  if (unit === '1' && reading === 'share') return `${trim(value * 100, 1)} %`;
  if (unit === '1' && reading === 'count') return trim(value, 0);
  return significant(value);
}

/** Units whose number already says them. */
const saysItsUnit = (unit: string): boolean => unit === 'min' || unit === '1' || isCurrency(unit);

/** A figure's value with its unit. */
export function valueWords(value: number, unit: string, display: LengthUnit, reading: FigureReading = 'plain'): string {
  if (unit === 'mm') return lengthText(value, display, lengthDigits(value, display));
  const number = numberWords(value, unit, display, reading);
  return saysItsUnit(unit) ? number : `${number} ${unitSign(unit, display)}`;
}

interface Interval {
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}

/** The 80 % interval, e.g. `30 to 49 min`, or with another word between; null for exact figures and for intervals finer than what is shown. */
export function intervalWords(
  { low, high, unit }: Interval,
  display: LengthUnit,
  reading: FigureReading = 'plain',
  between = ' to ',
): string | null {
  if (low === high) return null;
  const from = numberWords(low, unit, display, reading);
  const to = numberWords(high, unit, display, reading);
  if (from === to) return null;
  const shared = sharedEnding(from, to);
  return `${from.slice(0, from.length - shared)}${between}${to}`;
}

/** Length of a unit that both texts end with, so that it is said once. */
function sharedEnding(from: string, to: string): number {
  const a = /^[^ ]+( [A-Za-zµ%]+)$/.exec(from)?.[1];
  const b = /^[^ ]+( [A-Za-zµ%]+)$/.exec(to)?.[1];
  return a !== undefined && a === b ? a.length : 0;
}
