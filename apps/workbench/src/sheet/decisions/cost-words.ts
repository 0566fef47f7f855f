import type { DecisionCost } from '@gapwright/job';
import { moneyText, percentText } from '../../units/index.js';

/** A change with its sign; the minus is the real one (U+2212). */
export function signed(value: number, text: (size: number) => string): string {
  return `${value < 0 ? '−' : '+'}${text(Math.abs(value))}`;
}

/** Below this share a change is noise of rounding, not a cost. */
const LEAST_SHARE = 0.0005;

/** A change of minutes against what it was, in per cent when that is known, else in minutes. */
function minutesChange(changeMin: number, ofMin: number | null, what: string): string | null {
  if (ofMin !== null && ofMin > 0) {
    const share = changeMin / ofMin;
    return Math.abs(share) < LEAST_SHARE ? null : `${signed(share, (s) => percentText(s))} ${what}`;
  }
  return changeMin === 0 ? null : `${signed(changeMin, (m) => `${m.toFixed(0)} min`)} ${what}`;
}

/** What overruling costs against the computed choice, e.g. `+14.20 EUR per piece, +62 % burn`. */
export function costWords(
  cost: DecisionCost,
  currency: string,
  now: { readonly burnMin: number | null; readonly attendedMin: number | null },
): string {
  const parts: string[] = [];
  if (cost.unitPriceChange !== null) {
    // Prices are shown to the cent; less than half of one is no change.
    if (Math.abs(cost.unitPriceChange) >= 0.005) {
      parts.push(`${signed(cost.unitPriceChange, (v) => moneyText(v, currency))} per piece`);
    }
  }
  const computed = (present: number | null, change: number): number | null =>
    present === null ? null : present - change;
  if (cost.burnMinChange !== null) {
    const words = minutesChange(cost.burnMinChange, computed(now.burnMin, cost.burnMinChange), 'burn');
    if (words !== null) parts.push(words);
  }
  if (cost.attendedMinChange !== null) {
    const words = minutesChange(
      cost.attendedMinChange,
      computed(now.attendedMin, cost.attendedMinChange),
      'time of a person',
    );
    if (words !== null) parts.push(words);
  }
  const isKnown = cost.unitPriceChange !== null || cost.burnMinChange !== null || cost.attendedMinChange !== null;
  const figures = parts.join(', ') || (isKnown ? 'no difference in price or time' : '');
  return [figures, cost.says].filter((s) => s !== '').join('. ');
}
