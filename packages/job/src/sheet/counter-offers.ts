import { type PriceDriver, priceDriverId } from '@gapwright/costing';
import type { DraftJob } from './draft-job.js';
import type { CounterOffer } from './sheet-answer.js';

/** Savings below this share are noise to a customer (common practice). */
const SMALLEST_SAVING = 0.02;

/** Changes worth asking the customer for, largest saving first. */
export function counterOffersOf(drivers: readonly PriceDriver[]): CounterOffer[] {
  return (
    drivers
      .filter((d) => d.saving.value >= SMALLEST_SAVING)
      // The letter to the customer asks for changes by the same ids.
      .map((d) => ({
        id: priceDriverId(d),
        says: d.says,
        change: draftChange(d.change),
        savingShare: d.saving.value,
        unitPrice: d.unitPrice.value,
        burnChange: d.burnChange,
      }))
  );
}

/** The change in the words of a draft job. */
function draftChange(change: PriceDriver['change']): Partial<DraftJob> {
  const { wireId, agreedCornerRadiusMm, toleranceMm, raUm, recastMaxUm, heightMm, quantity } = change;
  const all = { wire: wireId, agreedCornerRadiusMm, toleranceMm, raUm, recastMaxUm, heightMm, quantity };
  return Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
}
