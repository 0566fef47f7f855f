import { minutesText, moneyText, percentText, trim } from '../../units/index.js';
import { signed } from '../decisions/cost-words.js';
import type { ResultKind, ResultRow } from './results.js';

/** A result in words; `–` while it is not known. */
export function resultWords({ kind, value }: Pick<ResultRow, 'kind' | 'value'>, currency: string): string {
  if (value === null) return '–';
  if (typeof value === 'string') return value;
  return numberOf(kind, value, currency);
}

function numberOf(kind: ResultKind, value: number, currency: string): string {
  switch (kind) {
    case 'money':
      return moneyText(value, currency);
    case 'share':
      return percentText(value, 1);
    case 'minutes':
      return minutesText(value);
    case 'metres':
      return `${trim(value, 0)} m`;
    default:
      return trim(value, 0);
  }
}

/** Changes smaller than what is shown are none. */
const LEAST: Readonly<Record<ResultKind, number>> = {
  money: 0.005,
  share: 0.0005,
  minutes: 0.05,
  metres: 0.5,
  count: 0.5,
  text: 0,
};

/** What changes from one result to the other: `−31.76 EUR (−18 %)`, `same`, `B25 to B20`. Empty while one is not known. */
export function differenceWords(now: ResultRow, tried: ResultRow, currency: string): string {
  if (now.value === null || tried.value === null) return '';
  if (typeof now.value === 'string' || typeof tried.value === 'string') {
    return String(now.value) === String(tried.value) ? 'same' : `${now.value} to ${tried.value}`;
  }
  const change = tried.value - now.value;
  if (Math.abs(change) < LEAST[now.kind]) return 'same';
  if (now.kind === 'share') return `${signed(change, (v) => (v * 100).toFixed(1))} points`;
  const size = signed(change, (v) => numberOf(now.kind, v, currency));
  if (now.kind === 'count' || now.value === 0) return size;
  return `${size} (${signed(change / now.value, (s) => percentText(s))})`;
}
