import { type Burn, logRatio } from './burn.js';
import { BurnBook, type BurnTimeForecast } from './burn-book.js';
import type { Spreads } from './spreads.js';

/** One burn with the forecast it had before it was known. */
export interface ReplayedBurn {
  readonly burn: Burn;
  readonly forecast: BurnTimeForecast;
  /** |actual / median - 1| of the learnt forecast and of the book alone. */
  readonly error: number;
  readonly bookError: number;
  readonly isIn80: boolean;
  readonly isIn95: boolean;
}

/** Burn counts after which the spreads are found anew; then at every doubling. */
const FIRST_REFIT = 6;

/** Goes through a log in its order as the shop would have lived it: forecast, burn, learn. */
export function replayBurns(burns: readonly Burn[], start?: Spreads): { book: BurnBook; replayed: ReplayedBurn[] } {
  const book = new BurnBook(start);
  let nextRefit = FIRST_REFIT;
  const replayed = burns.map((burn): ReplayedBurn => {
    const forecast = book.forecast(burn);
    book.add(burn);
    if (book.burns === nextRefit) {
      book.refit();
      nextRefit *= 2;
    }
    const { medianMin, interval80, interval95 } = forecast;
    const isIn = ({ low, high }: { low: number; high: number }): boolean =>
      burn.actualMin >= low && burn.actualMin <= high;
    return {
      burn,
      forecast,
      error: Math.abs(burn.actualMin / medianMin - 1),
      bookError: Math.abs(Math.exp(logRatio(burn)) - 1),
      isIn80: isIn(interval80),
      isIn95: isIn(interval95),
    };
  });
  return { book, replayed };
}
