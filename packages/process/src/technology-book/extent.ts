/** Lowest and highest value; works for any length, unlike spreading into Math.min. Infinity and -Infinity when empty. */
export function extentOf(values: Iterable<number>): readonly [low: number, high: number] {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return [low, high];
}
