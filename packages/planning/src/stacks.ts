import type { WireMachine } from '@gapwright/process';
import type { Job } from './job.js';

/**
 * Stacks worth comparing on a machine: for each possible number of runs the smallest stack that gives it, since more
 * plates in the tank for the same runs only cost time. Empty when not even one plate fits. A stated stack is the only one.
 */
export function stacksFor(job: Job, machine: WireMachine): number[] {
  const { rules } = job.book;
  const { heightMm, stack } = job.request;
  if (stack !== undefined) return stack * heightMm <= machine.maxHeightMm ? [stack] : [];
  if (heightMm > machine.maxHeightMm) return [];
  const byRule = Math.min(rules.maxStack.value, Math.max(1, Math.floor(rules.maxStackHeightMm.value / heightMm)));
  const most = Math.min(byRule, job.plates, Math.floor(machine.maxHeightMm / heightMm));
  const out: number[] = [];
  let lastRuns = 0;
  for (let s = 1; s <= most; s++) {
    const runs = runsFor(job, s);
    if (runs !== lastRuns) out.push(s);
    lastRuns = runs;
  }
  return out;
}

/** Runs needed for the whole quantity. */
export function runsFor(job: Job, stack: number): number {
  return Math.ceil(job.plates / stack);
}
