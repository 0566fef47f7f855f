import type { WireMachine } from '@gapwright/process';
import type { Job } from './job.js';

/**
 * Stacks worth comparing on a machine, smallest first: every height the rules and the machine allow. Of a stated stack
 * only that one and the rest it leaves of the quantity; settled stacks stay. Empty when not even one plate fits.
 */
export function stacksFor(job: Job, machine: WireMachine): number[] {
  const { rules } = job.book;
  const { heightMm, stack } = job.request;
  if (job.settled !== null) {
    const stacks = job.settled.map((b) => b.stack).filter((n) => n * heightMm <= machine.maxHeightMm);
    return stacks.sort((a, b) => a - b);
  }
  if (stack !== undefined) {
    if (stack * heightMm > machine.maxHeightMm) return [];
    const rest = restOf(job, stack);
    return rest === 0 ? [stack] : [rest, stack];
  }
  if (heightMm > machine.maxHeightMm) return [];
  const byRule = Math.min(rules.maxStack.value, Math.max(1, Math.floor(rules.maxStackHeightMm.value / heightMm)));
  const most = Math.min(byRule, job.plates, Math.floor(machine.maxHeightMm / heightMm));
  return Array.from({ length: most }, (_, i) => i + 1);
}

/** Plates left over by full stacks; 0 when there is no full stack or nothing is left. */
function restOf(job: Job, stack: number): number {
  return job.plates > stack ? job.plates % stack : 0;
}

/** One height of stack and what one run of it costs. */
export interface PricedStack {
  readonly stack: number;
  readonly runCost: number;
}

/** So many runs of one stack. */
export interface Share<T> {
  readonly option: T;
  readonly runs: number;
}

/**
 * The cheapest way to burn the job's plates in runs of one height or of two, larger stack first; null when the options
 * cannot do it. Runs may hold more plates than are needed, so more plates never cost less. As runs of one height all
 * cost the same, the height that is dearer per plate is never run as often as the other holds plates.
 */
export function cheapestSplit<T extends PricedStack>(job: Job, options: readonly T[]): readonly Share<T>[] | null {
  const { plates, settled } = job;
  if (settled !== null) {
    const shares = settled.flatMap(({ stack, runs }) =>
      options.filter((option) => option.stack === stack).map((option): Share<T> => ({ option, runs })),
    );
    return shares.length < settled.length ? null : shares;
  }
  const stated = job.request.stack;
  let best: readonly Share<T>[] | null = null;
  let least = Number.POSITIVE_INFINITY;
  const offer = (...shares: Share<T>[]): void => {
    const cost = splitCost(shares);
    if (cost >= least) return;
    least = cost;
    best = shares.sort((a, b) => b.option.stack - a.option.stack);
  };
  for (const option of options) {
    if (stated !== undefined && option.stack !== stated) continue;
    offer({ option, runs: Math.ceil(plates / option.stack) });
    for (const other of options) {
      if (other === option) continue;
      if (stated !== undefined) {
        if (other.stack === restOf(job, stated)) {
          offer({ option, runs: Math.floor(plates / stated) }, { option: other, runs: 1 });
        }
        continue;
      }
      if (option.runCost * other.stack > other.runCost * option.stack) continue;
      for (let runs = 1; runs < option.stack && runs * other.stack < plates; runs++) {
        const left = plates - runs * other.stack;
        offer({ option, runs: Math.ceil(left / option.stack) }, { option: other, runs });
      }
    }
  }
  return best;
}

/** Cost of all runs of a split. */
export function splitCost(shares: readonly Share<PricedStack>[]): number {
  return shares.reduce((sum, { option, runs }) => sum + runs * option.runCost, 0);
}
