import type { BurnContent } from '@gapwright/records';

/** A burn with the forecast it had from the burns before it. */
export interface SeenBurn {
  readonly id: string;
  readonly content: BurnContent;
  readonly forecastMin: number;
  readonly low80Min: number;
  readonly high80Min: number;
  readonly isIn80: boolean;
  readonly isIn95: boolean;
}

/** Share inside the 80 % interval over a moving window, one value per burn; the first windows are short. */
export function movingCoverage(burns: readonly SeenBurn[], window: number): number[] {
  const out: number[] = [];
  let inside = 0;
  burns.forEach((burn, i) => {
    if (burn.isIn80) inside++;
    if (i >= window && burns[i - window]!.isIn80) inside--;
    out.push(inside / Math.min(i + 1, window));
  });
  return out;
}

/**
 * Band that a true coverage of 80 % stays in 95 times of 100 for `n` burns (normal approximation of the binomial, which
 * is close enough from ten burns on); clipped to 0 and 1.
 */
export function coverageBand(n: number): readonly [number, number] {
  const reach = 1.96 * Math.sqrt((0.8 * 0.2) / Math.max(1, n));
  return [Math.max(0, 0.8 - reach), Math.min(1, 0.8 + reach)];
}

/** Burns by machine, machines in the order of their names. */
export function byMachine(burns: readonly SeenBurn[]): readonly (readonly [string, readonly SeenBurn[]])[] {
  const groups = new Map<string, SeenBurn[]>();
  for (const burn of burns) {
    const group = groups.get(burn.content.machine);
    if (group === undefined) groups.set(burn.content.machine, [burn]);
    else group.push(burn);
  }
  return [...groups].sort(([a], [b]) => a.localeCompare(b, undefined, { numeric: true }));
}
