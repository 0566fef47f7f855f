import { apply, type Figure } from '@gapwright/base';
import { type DrawnContour, type Plan, planWire, type WireOperation, type WireRequest } from '@gapwright/planning';
import type { ShopBook } from '@gapwright/process';
import { savingRatio } from './laws.js';
import { type Offer, type OfferOptions, offerFor } from './offer.js';

/** One change of the requirements, planned to the end, with what it would save. */
export interface PriceDriver {
  readonly id: 'radius' | 'tolerance' | 'finish' | 'recast' | 'height' | 'quantity';
  /** The change as a sentence for the customer. */
  readonly says: string;
  readonly change: Partial<WireRequest>;
  readonly unitPrice: Figure;
  /** Share of the present price saved; negative when the change costs more. */
  readonly saving: Figure;
  /** Burning time with the change over burning time now, minus one. */
  readonly burnChange: number;
  /** Chosen wire with the change. */
  readonly wireId: string;
}

/** Ra values drawings usually ask for (ISO 1302 series), µm. */
const RA_STEPS_UM = [0.1, 0.2, 0.4, 0.8, 1.6, 3.2, 6.3] as const;

/** Changes worth trying: how far each requirement is relaxed. */
const TOLERANCE_FACTOR = 2;
const HEIGHT_FACTOR = 0.9;
const QUANTITY_FACTOR = 4;

interface Trial {
  readonly id: PriceDriver['id'];
  readonly says: string;
  readonly change: Partial<WireRequest>;
}

/**
 * Re-plans and re-prices the job with one requirement relaxed at a time and returns the changes, largest saving first.
 * `plan` and `offer` are the job as asked; the price is compared at the computed price, not at the planner's own.
 */
export function priceDrivers(
  contours: readonly DrawnContour[],
  plan: Plan,
  book: ShopBook,
  offer: Offer,
  options: Pick<OfferOptions, 'seed' | 'draws'>,
): PriceDriver[] {
  const steps = priceDriverSteps(contours, plan, book, offer, options);
  for (let step = steps.next(); ; step = steps.next()) if (step.done === true) return step.value;
}

/** The work of {@link priceDrivers} in steps: yields the share done after each plan, so that a caller may stop in between. */
export function* priceDriverSteps(
  contours: readonly DrawnContour[],
  plan: Plan,
  book: ShopBook,
  offer: Offer,
  options: Pick<OfferOptions, 'seed' | 'draws'>,
): Generator<number, PriceDriver[]> {
  const wire = wireOperation(plan);
  if (wire === undefined) return [];
  const trials = [...(yield* radiusTrials(contours, plan, wire, book)), ...simpleTrials(plan.request)];
  const drivers: PriceDriver[] = [];
  for (const [i, trial] of trials.entries()) {
    yield i / trials.length;
    const changed = planWire(contours, { ...plan.request, ...trial.change }, book);
    const changedWire = wireOperation(changed);
    if (changedWire === undefined || changed.totals === null || plan.totals === null) continue;
    const price = offerFor(changed, book, options).computedUnitPrice;
    const burnPerPiece = changed.totals.burnMin.value / changed.request.quantity;
    const burnNow = plan.totals.burnMin.value / plan.request.quantity;
    drivers.push({
      ...trial,
      unitPrice: price,
      saving: apply(savingRatio, { changed: price, present: offer.computedUnitPrice }),
      burnChange: burnPerPiece / burnNow - 1,
      wireId: changedWire.wireId,
    });
  }
  return drivers.sort((a, b) => b.saving.value - a.saving.value);
}

function wireOperation(plan: Plan): WireOperation | undefined {
  return plan.operations.find((op): op is WireOperation => op.process === 'wire');
}

/** The corner radius that would let each thicker wire of the shop through, and only such radii as the drawing does not already allow. */
function* radiusTrials(
  contours: readonly DrawnContour[],
  plan: Plan,
  wire: WireOperation,
  book: ShopBook,
): Generator<number, Trial[]> {
  if (plan.request.wireId !== undefined) return [];
  const smallest = plan.features
    .map((f) => f.minInsideRadiusMm)
    .filter((r): r is number => r !== null)
    .reduce((least, r) => Math.min(least, r), Number.POSITIVE_INFINITY);
  if (smallest === Number.POSITIVE_INFINITY) return [];
  const trials: Trial[] = [];
  for (const thicker of book.wires) {
    if (thicker.diameterMm <= wire.wireDiameterMm) continue;
    yield 0;
    // A generous agreed radius shows which offset the thicker wire needs; that offset is the radius to ask for.
    const generous = { ...plan.request, wireId: thicker.id, agreedCornerRadiusMm: thicker.diameterMm * 2 };
    const rough = wireOperation(planWire(contours, generous, book))?.passes[0];
    if (rough === undefined) continue;
    const radiusMm = Math.ceil(rough.offsetMm.value * 100) / 100;
    if (radiusMm <= smallest) continue;
    trials.push({
      id: 'radius',
      says: `An inside corner of ${radiusMm.toFixed(2)} mm in place of ${smallest.toFixed(2)} mm allows the ${thicker.diameterMm.toFixed(2)} mm wire`,
      change: { agreedCornerRadiusMm: radiusMm, wireId: thicker.id },
    });
  }
  return trials;
}

function simpleTrials(request: WireRequest): Trial[] {
  const trials: Trial[] = [];
  const tolerance = Number((request.toleranceMm * TOLERANCE_FACTOR).toPrecision(6));
  trials.push({
    id: 'tolerance',
    says: `A profile tolerance of ±${tolerance} mm in place of ±${request.toleranceMm} mm`,
    change: { toleranceMm: tolerance },
  });
  const coarser = RA_STEPS_UM.find((ra) => ra > request.raUm * 1.001);
  if (coarser !== undefined) {
    trials.push({
      id: 'finish',
      says: `A surface of Ra ${coarser} µm in place of Ra ${request.raUm} µm`,
      change: { raUm: coarser },
    });
  }
  if (request.recastMaxUm !== undefined) {
    trials.push({
      id: 'recast',
      says: `A recast layer of up to ${request.recastMaxUm * 2} µm in place of ${request.recastMaxUm} µm`,
      change: { recastMaxUm: request.recastMaxUm * 2 },
    });
  }
  const height = Number((request.heightMm * HEIGHT_FACTOR).toPrecision(4));
  trials.push({
    id: 'height',
    says: `A height of ${height} mm in place of ${request.heightMm} mm`,
    change: { heightMm: height },
  });
  const quantity = request.quantity * QUANTITY_FACTOR;
  trials.push({
    id: 'quantity',
    says: `Ordering ${quantity} in place of ${request.quantity}`,
    change: { quantity },
  });
  return trials;
}

/**
 * Names a driver for good among those of one job: its kind, and for corner radii the wire that the radius lets through,
 * e.g. `tolerance` or `radius:B25`. The same change of the same job keeps its name when prices move.
 */
export function priceDriverId(driver: Pick<PriceDriver, 'id' | 'change'>): string {
  const { wireId } = driver.change;
  return driver.id === 'radius' && wireId !== undefined ? `radius:${wireId}` : driver.id;
}
