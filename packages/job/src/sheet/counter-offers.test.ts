import { type PriceDriver, priceDriverId } from '@gapwright/costing';
import { expect, test } from 'vitest';
import { counterOffersOf } from './counter-offers.js';

const driver = (id: PriceDriver['id'], wireId: string, saving: number): PriceDriver =>
  ({
    id,
    says: `${id} ${wireId}`,
    change: {},
    wireId,
    saving: { value: saving },
    unitPrice: { value: 10 },
    burnChange: 0,
  }) as never;

test('a counter-offer goes by the id the letter to the customer asks by', () => {
  const drivers = [driver('radius', 'B25', 0.31), driver('radius', 'B30', 0.3), driver('height', 'B25', 0.001)];
  expect(counterOffersOf(drivers).map((o) => o.id)).toEqual(drivers.slice(0, 2).map(priceDriverId));
});
