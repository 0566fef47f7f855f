import { apply, BY_DEFINITION, defineLaw, type Figure, given, STATED_FOR_JOB, sumOf } from '@gapwright/base';
import { timesMin } from '@gapwright/process';
import type { Operation, Plan } from './plan.js';

const TOUCHES = defineLaw({
  id: 'plan-touches',
  says: 'Moments that need a person, over all runs.',
  formula: 'n k',
  source: BY_DEFINITION,
  inputs: { n: { unit: '1', says: 'runs' }, k: { unit: '1', says: 'touches per run' } },
  output: '1',
  evaluate: ({ n, k }) => n * k,
});

/** Sums over all operations and runs. */
export function planTotals(operations: readonly Operation[]): NonNullable<Plan['totals']> {
  const machine: Record<string, Figure> = {};
  const attended: Record<string, Figure> = {};
  const touches: Record<string, Figure> = {};
  let burnMin: Figure | null = null;
  for (const o of operations) {
    const name = `operation ${o.number}`;
    machine[name] = timesMin(o.runs, o.machineMin, 'Runs');
    attended[name] = timesMin(o.runs, o.attendedMin, 'Runs');
    touches[name] = apply(TOUCHES, {
      n: given(o.runs, '1', 'Runs', STATED_FOR_JOB),
      k: given(o.touches.length, '1', 'Touches planned per run', STATED_FOR_JOB),
    });
    if (o.process !== 'wire') continue;
    const perRun = sumOf(Object.fromEntries(o.passes.map((p) => [`pass ${p.pass}`, p.burnMin])));
    const all = timesMin(o.runs, perRun, 'Runs');
    burnMin = burnMin === null ? all : sumOf({ before: burnMin, [name]: all });
  }
  return {
    burnMin: burnMin ?? given(0, 'min', 'Nothing is burned', STATED_FOR_JOB),
    machineMin: sumOf(machine),
    attendedMin: sumOf(attended),
    touches: sumOf(touches),
  };
}
