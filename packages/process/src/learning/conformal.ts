/**
 * Half-width of a central interval as a quantile of past misses, smoothed at the start by pseudo misses that the model itself
 * would make. `misses` are in [0, 1): |PIT - 1/2| * 2 of past forecasts, 0 when the forecast's median was met.
 * A calibrated model has uniform misses, so the answer is near `level`; a model that is too sure of itself gets a larger one.
 * Rank ceil((n + 1) level) of split conformal prediction, over past and pseudo misses together.
 */
export function conformalLevel(misses: readonly number[], level: number, pseudo: number): number {
  const all = [...misses];
  for (let k = 0; k < pseudo; k++) all.push((k + 0.5) / pseudo);
  all.sort((a, b) => a - b);
  const n = all.length;
  if (n === 0) return level;
  // Between two ranks the level is read off linearly, so that one more miss never makes the interval jump.
  const rank = (n + 1) * level;
  const below = Math.floor(rank);
  if (below >= n) return Math.min(MOST_LEVEL, 1 - (1 - all[n - 1]!) * 0.5);
  if (below < 1) return all[0]!;
  const share = rank - below;
  return Math.min(MOST_LEVEL, all[below - 1]! * (1 - share) + all[below]! * share);
}

/** Intervals end here: beyond it a forecast's tail is an assumption and nothing measured. */
const MOST_LEVEL = 0.9998;
