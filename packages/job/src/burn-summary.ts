import { type Problem, problem } from '@gapwright/base';
import {
  type Burn,
  dateText,
  readBurnLog,
  readTable,
  replayBurns,
  summariseLog,
  updateShopBook,
} from '@gapwright/process';
import { type LearnBurnsDocument, learnBurnsDocument } from './documents/learn-burns-document.js';

/** A burn as the shop keeps it. */
export interface LoggedBurn {
  /** Day it was finished, `YYYY-MM-DD`. */
  readonly day: string;
  readonly material: string;
  readonly machine: string;
  readonly wire: string;
  readonly heightMm: number;
  readonly level: number;
  readonly predictedMin: number;
  readonly actualMin: number;
}

/** One burn with the forecast it had from the burns before it. */
export interface ForecastBurn {
  /** Place in the list handed in. */
  readonly index: number;
  readonly forecastMin: number;
  readonly low80Min: number;
  readonly high80Min: number;
  readonly low95Min: number;
  readonly high95Min: number;
  readonly isIn80: boolean;
  readonly isIn95: boolean;
}

/** A whole burn log summed up, and what it would change in a shop book. */
export interface BurnSummary {
  /** Null when there are no burns. */
  readonly summary: LearnBurnsDocument | null;
  /** In the order of their days. */
  readonly seen: readonly ForecastBurn[];
  /** The next version of the book with its changes in words; null when there is nothing to learn, or the book is broken. */
  readonly book: { readonly json: unknown; readonly toVersion: string; readonly says: readonly string[] } | null;
  readonly problems: readonly Problem[];
}

const MS_PER_DAY = 86_400_000;

/** Sums up kept burns against a shop book (parsed JSON), each burn forecast from those before it. */
export function summariseBurns(logged: readonly LoggedBurn[], bookJson: unknown): BurnSummary {
  const inOrder = logged
    .map((b, index) => ({ index, burn: burnOf(b) }))
    .sort((a, b) => a.burn.day - b.burn.day || a.index - b.index);
  const burns = inOrder.map((o) => o.burn);
  const [first, last] = [burns[0], burns.at(-1)];
  if (first === undefined || last === undefined) return { summary: null, seen: [], book: null, problems: [] };
  const log = summariseLog(burns);
  const seen = replayBurns(burns).replayed.map(
    ({ forecast, isIn80, isIn95 }, i): ForecastBurn => ({
      index: inOrder[i]!.index,
      forecastMin: forecast.medianMin,
      low80Min: forecast.interval80.low,
      high80Min: forecast.interval80.high,
      low95Min: forecast.interval95.low,
      high95Min: forecast.interval95.high,
      isIn80,
      isIn95,
    }),
  );
  const days = { first: first.day, last: last.day };
  const between = `${dateText(days.first)} to ${dateText(days.last)}`;
  const { value: updated, problems } = updateShopBook(bookJson, log.book, between);
  const named = updated === null ? null : { book: updated, out: '' };
  const summary = learnBurnsDocument(log, days, named, problems, 'burn log');
  const book =
    updated === null
      ? null
      : { json: updated.json, toVersion: updated.toVersion, says: updated.changes.map((c) => changeWords(c)) };
  return { summary, seen, book, problems };
}

function changeWords({ field, from, to, burns }: { field: string; from: number; to: number; burns: number }): string {
  const share = Math.round((to / from - 1) * 100);
  const change = `${share < 0 ? '−' : '+'}${Math.abs(share)} %`;
  return `${field}: ${from} becomes ${to} (${change}), from ${burns} ${burns === 1 ? 'burn' : 'burns'}`;
}

function burnOf(b: LoggedBurn): Burn {
  const day = Math.round(Date.parse(`${b.day}T00:00:00Z`) / MS_PER_DAY);
  const { material, machine, wire: tool, heightMm, level, predictedMin, actualMin } = b;
  return { day, material, machine, tool, heightMm, level: String(level), predictedMin, actualMin };
}

/** Burns read from a table, and what became of its rows. */
export interface ImportedBurns {
  readonly burns: readonly LoggedBurn[];
  readonly problems: readonly Problem[];
}

/** Reads burns to be kept from the cells of a table, header first. Rows that say too little are left out and listed. */
export function burnsFromCells(cells: readonly (readonly string[])[]): ImportedBurns {
  const { value: table, problems: unreadable } = readTable(cells);
  if (table === null) return { burns: [], problems: unreadable };
  const { value: log, problems: found } = readBurnLog(table);
  const problems = [...unreadable, ...found];
  if (log === null) return { burns: [], problems };
  const needed = log.absent.filter((what) => what !== 'tool');
  if (needed.length > 0) {
    const what = `The table does not say ${needed.join(', ')}, and a burn of the log needs them`;
    const fix = 'Add these columns; demo/burn-log.csv shows their names';
    return { burns: [], problems: [...problems, problem({ code: 'LEARN-LOG-COLUMNS', severity: 'stop', what, fix })] };
  }
  const whole = log.burns.filter((b) => b.heightMm > 0 && Number.isInteger(Number(b.level)) && Number(b.level) > 0);
  const left = log.burns.length - whole.length;
  if (left > 0) {
    const what = `${left} burns have no height or no level that is a whole number, and are left out`;
    problems.push(problem({ code: 'LEARN-ROW-LEFT-OUT', severity: 'warn', what, fix: 'Complete them in the table' }));
  }
  const burns = whole.map((b): LoggedBurn => {
    const { material, machine, tool: wire, heightMm, predictedMin, actualMin } = b;
    return { day: dateText(b.day), material, machine, wire, heightMm, level: Number(b.level), predictedMin, actualMin };
  });
  return { burns, problems };
}
