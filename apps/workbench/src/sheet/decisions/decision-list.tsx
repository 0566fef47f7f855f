import type { Decision } from '@gapwright/job';
import { DecisionRow } from './decision-row.js';

/** Choices of the plan that may be overruled, each where it belongs. */
export function DecisionList({
  decisions,
  label,
}: {
  readonly decisions: readonly Decision[];
  readonly label: string;
}) {
  if (decisions.length === 0) return null;
  return (
    <ul className="sheet-decisions" aria-label={label}>
      {decisions.map((d) => (
        <DecisionRow key={d.id} decision={d} />
      ))}
    </ul>
  );
}
