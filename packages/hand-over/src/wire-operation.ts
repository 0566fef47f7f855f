import { BugError } from '@gapwright/base';
import type { Plan, WireOperation } from '@gapwright/planning';

/** The wire operation of a program; every program has one. */
export function wireOperationOf(plan: Plan, number: number): WireOperation {
  const operation = plan.operations.find((op) => op.number === number);
  if (operation?.process !== 'wire') throw new BugError(`program of operation ${number} has no wire operation`);
  return operation;
}
