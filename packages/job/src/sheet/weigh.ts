import { decisionCost } from './decision-cost.js';
import { type DecisionParts, decisionsOf } from './decisions.js';
import type { DraftJob } from './draft-job.js';
import { jobOfDraft } from './job-of-draft.js';
import type { Outcome } from './outcome.js';
import type { Decision } from './sheet-answer.js';
import type { PricedPlan, Ready, SheetCaches } from './sheet-caches.js';
import { overruledIds, undecided } from './undecided.js';
import { type ChoiceOption, percent } from './wire-options.js';

/** The decisions of a plan, with what overruling costs where the plan without it is known already. */
export function knownDecisions(caches: SheetCaches, ready: Ready, { plan, offer }: PricedPlan): Decision[] {
  const computed = (id: string): Outcome | null => {
    const other = readyFor(ready, undecided(ready.draft, id));
    return other === null ? null : caches.knownPlan(other);
  };
  const parts: DecisionParts = { draft: ready.draft, book: ready.book, plan, offer, computed };
  return decisionsOf(parts);
}

/** Plans once more for each overruled decision, as if it were left to the plan; yields the share done after each. */
export function* weighOverruled(caches: SheetCaches, ready: Ready): Generator<number, void> {
  const ids = overruledIds(ready.draft).filter((id) => id !== 'unitPrice');
  for (const [i, id] of ids.entries()) {
    const other = readyFor(ready, undecided(ready.draft, id));
    if (other !== null) caches.planOf(other);
    yield (i + 1) / ids.length;
  }
}

/** Decisions whose other options are planned one by one, with how a draft takes an option. */
const TRIED: Readonly<Record<string, (draft: DraftJob, value: string) => DraftJob>> = {
  machine: (draft, machine) => ({ ...draft, machine }),
  stack: (draft, value) => ({ ...draft, stack: Number(value) }),
};

/** Plans the other machines and stacks and says in each option what it would cost; yields the share done after each. */
export function* weighOptions(
  caches: SheetCaches,
  ready: Ready,
  now: PricedPlan,
  decisions: readonly Decision[],
): Generator<number, Decision[]> {
  const tried = decisions.flatMap((d) => (d.id in TRIED && d.input.kind === 'choice' ? d.input.options : []));
  let done = 0;
  const out: Decision[] = [];
  for (const decision of decisions) {
    const { id, input } = decision;
    const take = TRIED[id];
    if (take === undefined || input.kind !== 'choice') {
      out.push(decision);
      continue;
    }
    const options: ChoiceOption[] = [];
    for (const option of input.options) {
      if (option.value === input.value || !option.isPossible) options.push(option);
      else {
        const other = readyFor(ready, take(ready.draft, option.value));
        options.push(other === null ? option : weighedOption(option, now, caches.planOf(other)));
      }
      yield ++done / tried.length;
    }
    out.push({ ...decision, input: { ...input, options } });
  }
  return out;
}

function weighedOption(option: ChoiceOption, now: Outcome, other: Outcome): ChoiceOption {
  const { unitPriceChange, burnMinChange, says } = decisionCost(other, now);
  const label = option.says.slice(0, option.says.indexOf(':'));
  if (other.offer === null) return { ...option, says: `${label}: ${says}`, isPossible: false };
  const price = now.offer?.computedUnitPrice.value;
  const burn = now.plan.totals?.burnMin.value;
  if (unitPriceChange === null || burnMinChange === null || price === undefined || burn === undefined) return option;
  const words = `${option.says}, ${percent(unitPriceChange / price)} price, ${percent(burnMinChange / burn)} burn`;
  return { ...option, says: words };
}

/** The same job with other decisions; null when such a job makes no sense. */
function readyFor(ready: Ready, draft: DraftJob): Ready | null {
  const { value } = jobOfDraft(draft, ready.job.drawing);
  return value === null ? null : { ...ready, draft, job: value };
}
