import { Z_80 } from '../../units/interval.js';

/** Numbers of the worked examples in the help, worked out rather than typed in. */

/** Offset of a pass, mm: wire radius, gap, and what later passes take away. */
export function passOffsetMm(wireMm: number, gapMm: number, laterStockMm: number): number {
  return wireMm / 2 + gapMm + laterStockMm;
}

/** Width the wire removes, mm. */
export function kerfMm(wireMm: number, gapMm: number): number {
  return wireMm + 2 * gapMm;
}

/** Ends of the 80 % interval around a median whose logarithm scatters by `sdLog`. */
export function interval80(median: number, sdLog: number): readonly [low: number, high: number] {
  const factor = Math.exp(Z_80 * sdLog);
  return [median / factor, median * factor];
}

/** Mean of a log-normal number with this median and scatter. */
export function meanOf(median: number, sdLog: number): number {
  return median * Math.exp((sdLog * sdLog) / 2);
}

/** The margin rule: the price at which the expected cost leaves the margin, and the order reaches the smallest order value. */
export function priceFromMargin(expectedCost: number, margin: number, smallestOrder: number, pieces: number): number {
  return Math.max(expectedCost / (1 - margin), smallestOrder / pieces);
}
