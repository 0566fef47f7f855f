import type { PriceDriver } from '@gapwright/costing';
import type { PriceStudy } from '@gapwright/job';

/** Savings smaller than this share are noise to a customer. */
const SMALLEST_SAVING = 0.02;

/** The changes worth asking a customer for, largest saving first. */
export function savings(study: PriceStudy): readonly PriceDriver[] {
  return study.drivers.filter((d) => d.saving.value >= SMALLEST_SAVING);
}
