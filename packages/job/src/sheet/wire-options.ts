import type { Plan, WireOption } from '@gapwright/planning';
import { findWire, type ShopBook } from '@gapwright/process';

/** One possible answer to a decision. */
export interface ChoiceOption {
  readonly value: string;
  /** What it is, a colon, and what it costs or why it cannot be. */
  readonly says: string;
  readonly isPossible: boolean;
}

/** Every wire of the shop book once, with what it costs beside the chosen one; the planning of a wire already says so. */
export function wireOptions(plan: Plan, book: ShopBook, chosenId: string): ChoiceOption[] {
  const chosen = plan.wireOptions.find((o) => o.marks.includes('chosen'));
  const first = new Map<string, WireOption>();
  for (const option of plan.wireOptions) if (!first.has(option.wireId)) first.set(option.wireId, option);
  const known = book.wires.map((wire): ChoiceOption => {
    const option = first.get(wire.id);
    const label = `${wire.id} ${wire.kind}`;
    if (option === undefined) return { value: wire.id, says: `${label}: not planned`, isPossible: true };
    if (!option.fits) {
      const why = option.problems[0]?.message ?? 'does not fit';
      return { value: wire.id, says: `${label}: ${why}`, isPossible: false };
    }
    return { value: wire.id, says: `${label}: ${besideChosen(option, chosen)}`, isPossible: true };
  });
  const isUnknown = chosenId !== '' && findWire(book, chosenId) === undefined;
  return isUnknown
    ? [...known, { value: chosenId, says: `${chosenId}: not in the shop book`, isPossible: false }]
    : known;
}

function besideChosen(option: WireOption, chosen: WireOption | undefined): string {
  const on = `on ${option.machineId}`;
  const { comparisonCost: cost, burnMin } = option;
  if (
    option === chosen ||
    chosen?.comparisonCost == null ||
    chosen.burnMin === null ||
    cost === null ||
    burnMin === null
  ) {
    return on;
  }
  const costShare = cost.value / chosen.comparisonCost.value - 1;
  const burnShare = burnMin.value / chosen.burnMin.value - 1;
  return `${percent(costShare)} cost, ${percent(burnShare)} burn, ${on}`;
}

/** A change in per cent with its sign. */
export function percent(share: number): string {
  const value = Math.round(share * 100);
  return `${value < 0 ? '−' : '+'}${Math.abs(value)} %`;
}
