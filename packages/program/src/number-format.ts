/** No machine reaches farther than 100 m; a larger position is a lost decimal point. */
export const LARGEST_POSITION_MM = 1e5;
/** Radii beyond 1 km are lines; a larger one is a lost decimal point. */
export const LARGEST_RADIUS_MM = 1e6;
/** 1 km/min: far above any cut; a larger feed is a lost decimal point. */
export const LARGEST_FEED_MM_PER_MIN = 1e6;

/** How numbers of one kind are written and which spellings are read back. */
export interface NumberFormat {
  /** Digits after the decimal point; also the most the reader accepts. */
  readonly decimals: number;
  /** `0.5` (true) or `.5` (false). The reader takes both. */
  readonly leadingZero: boolean;
  /** `1.500` (true) or `1.5` (false). The reader takes both. */
  readonly trailingZeros: boolean;
  /** `+1.5` for positive numbers. The reader takes both. */
  readonly plusSign: boolean;
  /**
   * `always`: whole numbers get a point (`5.`) and the reader refuses a number without one, because controls differ in
   * what `X5` means. `when needed`: whole numbers may stand without.
   */
  readonly decimalPoint: 'always' | 'when needed';
}

/** The value in whole counts of the last digit. */
export function toCounts(value: number, format: NumberFormat): number {
  return Math.round(value * 10 ** format.decimals);
}

/** The value that a number of counts stands for: the double nearest to the decimal. */
export function fromCounts(counts: number, format: NumberFormat): number {
  return counts / 10 ** format.decimals;
}

/** Writes whole counts of the last digit. Works on digits only, so that no binary rounding can show. */
export function writeCounts(counts: number, format: NumberFormat): string {
  const { decimals } = format;
  const digits = Math.abs(counts)
    .toFixed(0)
    .padStart(decimals + 1, '0');
  let whole = digits.slice(0, digits.length - decimals);
  let fraction = decimals === 0 ? '' : digits.slice(-decimals);
  if (!format.trailingZeros) fraction = fraction.replace(/0+$/, '');
  if (!format.leadingZero && whole === '0' && fraction !== '') whole = '';
  const sign = counts < 0 ? '-' : format.plusSign ? '+' : '';
  const point = fraction !== '' || format.decimalPoint === 'always' ? '.' : '';
  return `${sign}${whole}${point}${fraction}`;
}

/**
 * Decimal words add up as decimals: rounding to this many parts of one program unit takes away the binary noise of
 * sums, far below any control's last digit.
 */
const DECIMAL_PARTS = 1e9;

/** A sum of decimal words, in program units, as the decimal it stands for. */
export function asDecimal(sum: number): number {
  return Math.round(sum * DECIMAL_PARTS) / DECIMAL_PARTS;
}
