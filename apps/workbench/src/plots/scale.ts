/** Maps values of a range to a length on the screen. */
export interface Scale {
  readonly at: (value: number) => number;
  readonly ticks: readonly number[];
}

/** Steps of 1, 2 or 5 times a power of ten, about `count` of them over the range. */
export function niceTicks(low: number, high: number, count: number): number[] {
  if (!(high > low) || !Number.isFinite(high - low)) return [low];
  const rough = (high - low) / Math.max(1, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5, 10].find((m) => m * power >= rough * (1 - 1e-9)) ?? 10);
  const out: number[] = [];
  const first = Math.ceil(low / step - 1e-9);
  const last = Math.floor(high / step + 1e-9);
  for (let k = first; k <= last; k++) out.push(Number((k * step).toPrecision(12)));
  return out;
}

/** 1, 2 and 5 times powers of ten inside the range; only powers of ten when that would be too many. */
export function logTicks(low: number, high: number, most = 10): number[] {
  const all: number[] = [];
  const tens: number[] = [];
  for (let p = Math.floor(Math.log10(low)); p <= Math.ceil(Math.log10(high)); p++) {
    for (const m of [1, 2, 5]) {
      const tick = Number((m * 10 ** p).toPrecision(3));
      if (tick < low * (1 - 1e-9) || tick > high * (1 + 1e-9)) continue;
      all.push(tick);
      if (m === 1) tens.push(tick);
    }
  }
  return all.length <= most || tens.length < 2 ? all : tens;
}

export function linearScale(low: number, high: number, from: number, to: number, ticks = 5): Scale {
  const span = high - low || 1;
  return { at: (v) => from + ((v - low) / span) * (to - from), ticks: niceTicks(low, high, ticks) };
}

/** `low` and `high` must be positive. */
export function logScale(low: number, high: number, from: number, to: number): Scale {
  const a = Math.log(low);
  const span = Math.log(high) - a || 1;
  return { at: (v) => from + ((Math.log(v) - a) / span) * (to - from), ticks: logTicks(low, high) };
}
