import type { PriceDriver } from '@gapwright/costing';
import type { PriceStudy } from '@gapwright/job';

/** Savings smaller than this share are noise to a customer. */
const SMALLEST_SAVING = 0.02;

/** The changes that save enough to be named, largest saving first. */
export function savings(study: PriceStudy): readonly PriceDriver[] {
  return study.drivers.filter((d) => d.saving.value >= SMALLEST_SAVING);
}

/** The same without radii that ask more of the customer than a smaller one and save less. */
export function worthAsking(study: PriceStudy): readonly PriceDriver[] {
  const all = savings(study);
  const radiusOf = (d: PriceDriver): number => d.change.agreedCornerRadiusMm ?? 0;
  const isBeaten = (d: PriceDriver): boolean =>
    d.id === 'radius' &&
    all.some((other) => other.id === 'radius' && other.saving.value > d.saving.value && radiusOf(other) <= radiusOf(d));
  return all.filter((d) => !isBeaten(d));
}
