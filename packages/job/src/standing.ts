import type { Plan } from '@gapwright/planning';
import { burnSourceOf, findMaterial, type ShopBook } from '@gapwright/process';

/** What the numbers of a plan rest on, as a sentence: starting values, or the shop's own burns where the book learnt from them. */
export function standingOf(book: ShopBook, plan: Plan): string {
  const wire = plan.operations.find((op) => op.process === 'wire');
  const rates = [
    findMaterial(book, plan.request.materialId)?.wireRateFactor,
    book.wireMachines.find((m) => m.id === wire?.machineId)?.rateFactor,
  ];
  const burns = rates.flatMap((rate) => (rate === undefined ? [] : (burnSourceOf(rate)?.title ?? [])))[0];
  const values = 'starting values from published ranges and common practice';
  return burns === undefined
    ? `Times, finishes and costs are ${values}; none of this shop’s own burns are in them yet.`
    : `Burning rates are learnt from this shop’s own burns (${burns}); finishes, gaps and other figures are ${values}.`;
}
