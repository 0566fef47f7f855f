import type { RouteCardData } from '@gapwright/papers';
import { type PaperContext, paperHead, paperPart } from './context.js';

export function routeCardData(context: PaperContext): RouteCardData {
  const { inputs, plan, run } = context;
  const { book, job } = inputs;
  const machineName = (id: string): string => {
    const machine = [...book.wireMachines, ...book.drillMachines].find((m) => m.id === id);
    return machine === undefined || machine.name === id ? id : `${id} ${machine.name}`;
  };
  return {
    ...paperHead(context),
    part: paperPart(context),
    quantity: plan.request.quantity,
    ...(job.customer === undefined ? {} : { customer: job.customer }),
    operations: plan.operations.map((op) => {
      const program = run.programs.find((p) => p.operation === op.number)?.fileName;
      return {
        number: op.number,
        title: op.title,
        machine: machineName(op.machineId),
        runs: op.runs,
        machineMin: op.machineMin,
        attendedMin: op.attendedMin,
        touches: op.touches.map((t) => t.says),
        ...(program === undefined ? {} : { program }),
      };
    }),
    ...(plan.totals === null ? {} : { totals: plan.totals }),
  };
}
