import { studentQuantile } from '../special-functions.js';
import { type Burn, logRatio } from './burn.js';
import type { BurnBook } from './burn-book.js';
import { BurnFilter, type Effect, NOISE_FREEDOM } from './burn-filter.js';
import type { DriftAlarm } from './drift-alarm.js';
import { replayBurns } from './replay.js';
import { STARTING_SPREADS } from './spreads.js';

/** How good forecasts were: median of |actual/forecast - 1| and shares inside the intervals. */
export interface ForecastQuality {
  readonly medianError: number;
  readonly coverage: { readonly '80': number; readonly '95': number };
}

/** A whole log, lived through once. */
export interface LogSummary {
  readonly book: BurnBook;
  readonly burns: number;
  /** The book alone, with the doubt a starting book has. */
  readonly before: ForecastQuality;
  /** Each burn forecast from the burns before it. */
  readonly after: ForecastQuality;
  /** The same for the later half of the log. */
  readonly afterLaterHalf: ForecastQuality;
  /** Largest first. */
  readonly effects: readonly (Effect & { readonly hasMoved: boolean })[];
  readonly alarms: readonly DriftAlarm[];
}

/** An effect has moved when it is this many of its standard deviations from nothing. */
const MOVED_SDS = 2;

export function summariseLog(burns: readonly Burn[]): LogSummary {
  const { book, replayed } = replayBurns(burns);
  const half = replayed.slice(Math.floor(replayed.length / 2));
  const quality = (list: typeof replayed): ForecastQuality => ({
    medianError: median(list.map((r) => r.error)),
    coverage: { '80': share(list.map((r) => r.isIn80)), '95': share(list.map((r) => r.isIn95)) },
  });
  const sds = burns.map((b) => Math.abs(logRatio(b)) / new BurnFilter(STARTING_SPREADS).forecast(b).scale);
  const within = (level: number): number => share(sds.map((d) => d <= studentQuantile(0.5 + level / 2, NOISE_FREEDOM)));
  return {
    book,
    burns: burns.length,
    before: {
      medianError: median(replayed.map((r) => r.bookError)),
      coverage: { '80': within(0.8), '95': within(0.95) },
    },
    after: quality(replayed),
    afterLaterHalf: quality(half),
    effects: book
      .effects()
      .map((e) => ({ ...e, hasMoved: Math.abs(e.mean) > MOVED_SDS * e.sd }))
      .sort((a, b) => Math.abs(b.mean) - Math.abs(a.mean)),
    alarms: book.alarms,
  };
}

function share(flags: readonly boolean[]): number {
  return flags.filter(Boolean).length / flags.length;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return 0.5 * (sorted[(sorted.length - 1) >> 1]! + sorted[sorted.length >> 1]!);
}
