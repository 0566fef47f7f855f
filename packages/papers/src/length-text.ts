import { fixed, type SpreadText, spreadText, trimmed } from './number-text.js';
import type { LengthUnit } from './paper-head.js';
import type { Spread } from './spread.js';

/** Exact by definition (international inch, 1959). */
const MM_PER_INCH = 25.4;

const scaled = (s: Spread, k: number): Spread => ({ value: s.value * k, low: s.low * k, high: s.high * k });

/** Prints lengths and what hangs on them in the unit of the paper. Data are mm, µm, mm/min. */
export interface LengthText {
  readonly unit: string;
  readonly feedUnit: string;
  readonly raUnit: string;
  /** Coordinates and tolerances: fixed decimals (0.001 mm or 0.0001 in). */
  readonly exact: (mm: number) => string;
  /** Sizes as a drawing gives them: without trailing zeros. */
  readonly size: (mm: number) => string;
  readonly sizeWithUnit: (mm: number) => string;
  /** Offsets and gaps with the decimals a program gives its registers (0.0001 mm or 0.00001 in), to be compared digit by digit. */
  readonly offsetCells: (mm: Spread) => SpreadText;
  readonly feedCells: (mmPerMin: Spread) => SpreadText;
  readonly raCells: (um: Spread) => SpreadText;
  readonly ra: (um: number) => string;
}

/** Decimals of a feed: three figures of a roughing feed of a few mm/min. */
const FEED_DECIMALS: Record<LengthUnit, number> = { mm: 2, inch: 3 };

export function lengthText(unit: LengthUnit): LengthText {
  const k = unit === 'mm' ? 1 : 1 / MM_PER_INCH;
  const decimals = unit === 'mm' ? 3 : 4;
  const short = unit === 'mm' ? 'mm' : 'in';
  // 1 µm = 39.37 µin; roughness in µin carries no decimals.
  const raScale = unit === 'mm' ? 1 : 1000 / MM_PER_INCH;
  const raDecimals = unit === 'mm' ? 2 : 0;
  const raUnit = unit === 'mm' ? 'µm' : 'µin';
  const size = (mm: number): string => trimmed(mm * k, decimals);
  return {
    unit: short,
    feedUnit: `${short}/min`,
    raUnit,
    exact: (mm) => fixed(mm * k, decimals),
    size,
    sizeWithUnit: (mm) => `${size(mm)} ${short}`,
    offsetCells: (mm) => spreadText(scaled(mm, k), decimals + 1),
    feedCells: (feed) => spreadText(scaled(feed, k), FEED_DECIMALS[unit]),
    raCells: (um) => spreadText(scaled(um, raScale), raDecimals),
    ra: (um) => `${trimmed(um * raScale, raDecimals)} ${raUnit}`,
  };
}
