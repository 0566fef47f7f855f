import type { Decision, PlanDocument } from '@gapwright/job';
import { memo, useMemo } from 'react';
import { DecisionList } from '../decisions/decision-list.js';
import { placedDecisions } from '../decisions/feature-decisions.js';
import { Section } from '../layout/section.js';
import { Cautions } from './cautions.js';
import { HoleTable } from './hole-table.js';
import { operationSectionId } from './operation-title.js';
import { PassLadder } from './pass-ladder.js';
import { SlugTable } from './slug-table.js';
import { TouchTable } from './touch-table.js';
import { WireFacts } from './wire-facts.js';

export type PlannedOperation = PlanDocument['operations'][number];
export type PlannedWire = Extract<PlannedOperation, { process: 'wire' }>;

interface OperationsProps {
  readonly operations: readonly PlannedOperation[];
  readonly decisions: readonly Decision[];
}

/** Each operation with everything that happens in it. */
export const Operations = memo(function Operations({ operations, decisions }: OperationsProps) {
  const byOperation = useMemo(
    () => new Map(operations.map((op) => [op.number, decisions.filter((d) => d.operation === op.number)])),
    [operations, decisions],
  );
  return operations.map((op) => (
    <OperationSection key={op.number} operation={op} decisions={byOperation.get(op.number) ?? []} />
  ));
});

function OperationSection({
  operation,
  decisions,
}: {
  readonly operation: PlannedOperation;
  readonly decisions: readonly Decision[];
}) {
  const placed = useMemo(() => placedDecisions(decisions), [decisions]);
  return (
    <Section
      id={operationSectionId(operation.number)}
      title={`${operation.number} · ${operation.title}`}
      aside={operation.runs > 1 ? <span className="sheet-soft">{operation.runs} runs; figures are for one</span> : null}
    >
      {operation.process === 'wire' ? <WireFacts operation={operation} /> : null}
      <DecisionList decisions={placed.whole} label={`Decisions of operation ${operation.number}`} />
      {operation.process === 'wire' ? (
        <>
          <h3>Pass ladder</h3>
          <PassLadder operation={operation} />
          <HoleTable title="Start holes" holes={operation.startHoles} placed={placed} />
          <SlugTable operation={operation} placed={placed} />
        </>
      ) : null}
      {operation.process === 'drill' ? <HoleTable title="Holes" holes={operation.holes} /> : null}
      <TouchTable operation={operation} />
      <Cautions ids={operation.cautions} />
    </Section>
  );
}
