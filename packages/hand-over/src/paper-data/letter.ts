import type { PriceDriver } from '@gapwright/costing';
import { type LengthText, type LetterChange, type LetterData, lengthText } from '@gapwright/papers';
import { type PaperContext, paperHead, paperPart, validUntil } from './context.js';
import { partDrawing } from './drawing.js';
import { type CornerGroup, cornersUnder, cornerWords, ringed } from './inside-corners.js';

/**
 * The letter that asks the customer for changes. `drivers` are those chosen, at least one.
 *
 * Each price is the one offered less the share the change saves: the computed price when the planner left it as
 * computed, and in proportion to it when the planner set a price of their own.
 */
export function letterData(context: PaperContext, drivers: readonly PriceDriver[]): LetterData {
  const { inputs, plan, offer, run } = context;
  const head = paperHead(context);
  const text = lengthText(head.lengthUnit);
  const largestMm = Math.max(0, ...drivers.map((d) => (d.id === 'radius' ? (d.change.agreedCornerRadiusMm ?? 0) : 0)));
  const corners = cornersUnder(largestMm, plan);
  const radii = drivers.filter((d) => d.id === 'radius');
  return {
    ...head,
    customer: { name: inputs.job.customer ?? 'Customer' },
    validUntil: validUntil(context),
    currency: offer.currency,
    part: paperPart(context),
    quantity: offer.quantity,
    unitPrice: offer.unitPrice.value,
    drawing: { ...partDrawing(run, plan), places: ringed(corners) },
    places: corners.map((group) => cornerWords(group, text)),
    changes: drivers.map((driver) => ({
      ...changeWords(driver, context, corners, text, radii.length > 1),
      unitPrice: offer.unitPrice.value * (1 - driver.saving.value),
    })),
  };
}

/** How the corners that would be larger are drawn now. */
function drawnWords(groups: readonly CornerGroup[], radius: string): string {
  const isSharp = groups.some((g) => g.radiusMm === 0);
  const isRound = groups.some((g) => g.largestMm > 0);
  const words = [...(isSharp ? ['drawn sharp'] : []), ...(isRound || !isSharp ? [`smaller than ${radius}`] : [])];
  return words.join(' or ');
}

function changeWords(
  { id, change }: PriceDriver,
  { plan }: PaperContext,
  corners: readonly CornerGroup[],
  text: LengthText,
  hasRadii: boolean,
): Omit<LetterChange, 'unitPrice'> {
  const { request } = plan;
  switch (id) {
    case 'radius': {
      const radiusMm = change.agreedCornerRadiusMm ?? 0;
      const radius = `R ${text.sizeWithUnit(radiusMm)}`;
      const smaller = corners.filter((g) => g.radiusMm < radiusMm);
      return {
        title: `Inside corners of ${radius}`,
        says: `Inside corners ${drawnWords(smaller, radius)} may keep ${radius}.`,
        because: `A thicker wire then reaches into them and cuts faster.${hasRadii ? ' One of the radii is enough.' : ''}`,
        check: `that the mating part clears ${radius} in these corners, or that they only give room.`,
        places: smaller.map((g) => g.label),
      };
    }
    case 'tolerance': {
      const wider = `±${text.sizeWithUnit(change.toleranceMm ?? request.toleranceMm)}`;
      return {
        title: `Profile tolerance of ${wider}`,
        says: `A profile tolerance of ${wider} in place of ±${text.sizeWithUnit(request.toleranceMm)}.`,
        because: 'Less finishing is then enough.',
        check: 'that fit and clearance in the assembly hold over the wider band.',
        places: [],
      };
    }
    case 'finish': {
      const coarser = `Ra ${text.ra(change.raUm ?? request.raUm)}`;
      return {
        title: `Surface of ${coarser}`,
        says: `A surface of ${coarser} in place of Ra ${text.ra(request.raUm)}.`,
        because: 'Less finishing is then enough.',
        check: 'the cut faces that slide, seal, release or are seen.',
        places: [],
      };
    }
    case 'recast': {
      const deeper = text.ra(change.recastMaxUm ?? 0);
      return {
        title: `Recast layer of up to ${deeper}`,
        says: `A recast layer of up to ${deeper} in place of ${text.ra(request.recastMaxUm ?? 0)}.`,
        because: 'Less finishing is then enough.',
        check: 'fatigue, coating and your specification: where it limits the layer, it decides.',
        places: [],
      };
    }
    case 'height': {
      const lower = text.sizeWithUnit(change.heightMm ?? request.heightMm);
      return {
        title: `Height of ${lower}`,
        says: `A height of ${lower} in place of ${text.sizeWithUnit(request.heightMm)}.`,
        because: 'There is then less material to cut through.',
        check: 'strength, guidance and the fit in the assembly at the lower height.',
        places: [],
      };
    }
    case 'quantity': {
      const quantity = change.quantity ?? request.quantity;
      return {
        title: `One order of ${quantity}`,
        says: `One order of ${quantity} in place of ${request.quantity}.`,
        because: 'Setting up is then shared by more parts.',
        check: 'that you need them all to this state of the drawing, delivered together.',
        quantity,
        places: [],
      };
    }
  }
}
