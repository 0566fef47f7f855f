import type { SheetAnswer } from '@gapwright/job';

/** How a result is written. */
export type ResultKind = 'money' | 'share' | 'minutes' | 'count' | 'metres' | 'text';

/** One key figure of an answer, for comparing answers. */
export interface ResultRow {
  readonly id: string;
  readonly label: string;
  readonly kind: ResultKind;
  /** Null while it is not known, or when the plan is stopped. */
  readonly value: number | string | null;
}

/** What a planner weighs a change by, in the order they look at it. */
export function resultsOf(answer: SheetAnswer | null): ResultRow[] {
  const plan = answer?.plan ?? null;
  const wires = (plan?.operations ?? []).flatMap((op) => (op.process === 'wire' ? [op] : []));
  const total = (of: (op: (typeof wires)[number]) => number): number | null =>
    wires.length === 0 ? null : wires.reduce((sum, op) => sum + of(op), 0);
  const count = (severity: string): number | null =>
    answer === null ? null : answer.problems.filter((p) => p.severity === severity).length;
  return [
    { id: 'price', label: 'Price per piece', kind: 'money', value: plan?.offer?.unitPrice.value ?? null },
    { id: 'order', label: 'Order value', kind: 'money', value: plan?.offer?.orderValue.value ?? null },
    { id: 'risk', label: 'Loss risk', kind: 'share', value: plan?.offer?.lossRisk.value ?? null },
    { id: 'burn', label: 'Burning, all pieces', kind: 'minutes', value: plan?.totals?.burnMin.value ?? null },
    {
      id: 'machine',
      label: 'Machine alone, all pieces',
      kind: 'minutes',
      value: plan?.totals?.machineMin.value ?? null,
    },
    {
      id: 'attended',
      label: 'Attended, all pieces',
      kind: 'minutes',
      value: plan?.totals?.attendedMin.value ?? null,
    },
    { id: 'touches', label: 'Touches, all pieces', kind: 'count', value: plan?.totals?.touches.value ?? null },
    // One operation's passes are compared as a number; several, one after the other.
    wires.length > 1
      ? { id: 'passes', label: 'Passes', kind: 'text', value: wires.map((op) => op.passes.length).join(' + ') }
      : { id: 'passes', label: 'Passes', kind: 'count', value: total((op) => op.passes.length) },
    {
      id: 'wire',
      label: 'Wire',
      kind: 'text',
      value: wires.length === 0 ? null : [...new Set(wires.map((op) => op.wireId))].join(', '),
    },
    { id: 'wire-use', label: 'Wire used', kind: 'metres', value: total((op) => op.wireUseM.value * op.runs) },
    { id: 'stops', label: 'Problems that stop the plan', kind: 'count', value: count('stop') },
    { id: 'warns', label: 'Problems to look at', kind: 'count', value: count('warn') },
  ];
}
