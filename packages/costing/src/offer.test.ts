import { readFileSync } from 'node:fs';
import { type Contour, contour, line, type Point } from '@gapwright/geometry';
import { planWire, type WireRequest } from '@gapwright/planning';
import { parseShopBook } from '@gapwright/process';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { costPlan } from './cost-build-up.js';
import { offerFor } from './offer.js';
import { priceDrivers } from './price-drivers.js';

const book = parseShopBook(
  JSON.parse(readFileSync(new URL('../../../shop/starting-shop-book.json', import.meta.url), 'utf8')),
).value!;

function polygon(points: readonly Point[]): Contour {
  return contour(
    points.map((p, i) => line(p, points[(i + 1) % points.length]!)),
    true,
  );
}

const plate = polygon([
  { x: 0, y: 0 },
  { x: 60, y: 0 },
  { x: 60, y: 40 },
  { x: 0, y: 40 },
]);
const opening = polygon([
  { x: 20, y: 10 },
  { x: 40, y: 10 },
  { x: 40, y: 30 },
  { x: 20, y: 30 },
]);
const contours = [{ contour: plate }, { contour: opening }];
const request: WireRequest = {
  materialId: 'D2',
  heightMm: 30,
  raUm: 0.8,
  toleranceMm: 0.01,
  quantity: 4,
  agreedCornerRadiusMm: 0.2,
};
const plan = planWire(contours, request, book);

describe('cost build-up', () => {
  test('the whole is the sum of its lines, and the piece its share', () => {
    const costs = costPlan(plan, book);
    const sum = costs.lines.reduce((total, l) => total + l.total.value, 0);
    expect(costs.total.value).toBeCloseTo(sum, 9);
    expect(costs.perPiece.value).toBeCloseTo(sum / 4, 9);
    expect(costs.lines.every((l) => l.total.value >= 0)).toBe(true);
  });

  test('two heights of stack are both paid for', () => {
    const two = planWire(contours, { ...request, quantity: 5, stack: 2 }, book);
    const wires = two.operations.filter((op) => op.process === 'wire');
    expect(wires.map((op) => op.runs * op.stack)).toEqual([4, 1]);
    const costs = costPlan(two, book);
    for (const key of ['id', 'label'] as const) {
      expect(new Set(costs.lines.map((l) => l[key])).size).toBe(costs.lines.length);
    }
    expect(costs.total.value).toBeCloseTo(
      costs.lines.reduce((total, l) => total + l.total.value, 0),
      9,
    );
  });

  test('machine cost by hand: hours times rate', () => {
    const wire = plan.operations.find((op) => op.process === 'wire')!;
    const rate = book.wireMachines.find((m) => m.id === wire.machineId)!.ratePerH.value;
    const byHand = ((wire.machineMin.value + wire.attendedMin.value) / 60) * wire.runs * rate;
    expect(costPlan(plan, book).lines.find((l) => l.id === `machine-${wire.number}`)!.total.value).toBeCloseTo(
      byHand,
      9,
    );
  });

  test('a stopped plan has no price', () => {
    const stopped = planWire(contours, { ...request, materialId: 'no such metal' }, book);
    expect(() => costPlan(stopped, book)).toThrow(/without operations/);
  });
});

describe('offer', () => {
  const offer = offerFor(plan, book, { seed: 1 });

  test('the loss risk is the share of the draws above the price, and falls with the price', () => {
    const risks = [0.8, 1, 1.2, 1.5].map(
      (f) => offerFor(plan, book, { seed: 1, unitPrice: offer.expectedUnitCost.value * f }).lossRisk.value,
    );
    expect(risks).toEqual([...risks].sort((a, b) => b - a));
    expect(risks[0]!).toBeGreaterThan(0.7);
    expect(risks[3]!).toBeLessThan(0.05);
  });

  test('at the price for a risk the counted risk is that risk', () => {
    for (const { risk, unitPrice } of offer.atRisk) {
      const at = offerFor(plan, book, { seed: 1, unitPrice: unitPrice.value });
      expect(Math.abs(at.lossRisk.value - risk)).toBeLessThan(0.002);
    }
  });

  test('the price leaves the margin on the expected cost, up to the full cent', () => {
    const exact = offer.expectedUnitCost.value / (1 - book.rates.marginRatio.value);
    expect(offer.unitPrice.value).toBeGreaterThanOrEqual(exact - 1e-9);
    expect(offer.unitPrice.value).toBeLessThan(exact + 0.01);
    const cents = offer.orderValue.value * 100;
    expect(Math.abs(cents - Math.round(cents))).toBeLessThan(1e-6);
    expect(offer.expectedUnitCost.value).toBeGreaterThan(offer.costs.perPiece.value);
  });

  test('the same seed gives the same offer, another seed nearly the same', () => {
    expect(offerFor(plan, book, { seed: 1 }).lossRisk.value).toBe(offer.lossRisk.value);
    const other = offerFor(plan, book, { seed: 2 });
    expect(other.unitPrice.value / offer.unitPrice.value).toBeCloseTo(1, 1);
  });

  test('small orders reach the smallest order value', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), (quantity) => {
        const small = offerFor(planWire([{ contour: opening }], { ...request, quantity }, book), book, {
          seed: 3,
          draws: 200,
        });
        return small.orderValue.value >= book.rates.minimumOrder.value - 1e-9;
      }),
      { numRuns: 10 },
    );
  });
});

test('price drivers are planned for real: each equals a fresh plan with the change', () => {
  const offer = offerFor(plan, book, { seed: 1 });
  const drivers = priceDrivers(contours, plan, book, offer, { seed: 1 });
  expect(drivers.map((d) => d.id)).toEqual(expect.arrayContaining(['tolerance', 'finish', 'height', 'quantity']));
  for (const driver of drivers) {
    const fresh = offerFor(planWire(contours, { ...request, ...driver.change }, book), book, { seed: 1 });
    expect(driver.unitPrice.value).toBe(fresh.computedUnitPrice.value);
    expect(driver.saving.value).toBeCloseTo(1 - fresh.computedUnitPrice.value / offer.computedUnitPrice.value, 12);
  }
});

test('a thicker wire is offered for a rounder corner', () => {
  const r = 0.12;
  const notch: Contour = contour(
    [
      line({ x: 0, y: r }, { x: 0, y: 0 }),
      line({ x: 0, y: 0 }, { x: 20, y: 0 }),
      line({ x: 20, y: 0 }, { x: 20, y: 20 }),
      line({ x: 20, y: 20 }, { x: 10, y: 20 }),
      line({ x: 10, y: 20 }, { x: 10, y: 10 + r }),
      {
        kind: 'arc',
        from: { x: 10, y: 10 + r },
        to: { x: 10 - r, y: 10 },
        centre: { x: 10 - r, y: 10 + r },
        radiusMm: r,
        sweepRad: -Math.PI / 2,
      },
      line({ x: 10 - r, y: 10 }, { x: 0, y: 10 }),
      line({ x: 0, y: 10 }, { x: 0, y: r }),
    ],
    true,
  );
  const narrow: WireRequest = { materialId: 'D2', heightMm: 30, raUm: 0.8, toleranceMm: 0.01, quantity: 4 };
  const tight = planWire([{ contour: notch }], narrow, book);
  const offer = offerFor(tight, book, { seed: 1 });
  const radius = priceDrivers([{ contour: notch }], tight, book, offer, { seed: 1 }).filter((d) => d.id === 'radius');
  expect(radius.length).toBeGreaterThan(0);
  expect(radius[0]!.says).toContain('in place of 0.12 mm');
  expect(radius[0]!.saving.value).toBeGreaterThan(0);
});
