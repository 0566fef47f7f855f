import type { Decision } from '@gapwright/job';
import { memo } from 'react';
import { Button, Mark } from '../../kit/index.js';
import { fieldId } from '../problems/way-out.js';
import { useSheet } from '../sheet-context.js';
import { useTotals } from '../totals-context.js';
import { backToComputed, decide } from './apply-decision.js';
import { costWords } from './cost-words.js';
import { DecisionInput } from './decision-input.js';

/** One decision: the value in force, the computed one beside it, and what overruling costs. */
export const DecisionRow = memo(function DecisionRow({ decision }: { readonly decision: Decision }) {
  const { edit, isReadOnly, names } = useSheet();
  const now = useTotals();
  const { label, chosen, computed, isOverruled, because, costs } = decision;
  return (
    <li className="sheet-decision" id={fieldId(decision.id)} data-overruled={isOverruled || undefined}>
      <div className="sheet-decision-entry">
        <DecisionInput
          decision={decision}
          isReadOnly={isReadOnly}
          onDecide={(value, says) => edit(`${label} set to ${says}`, (d) => decide(d, decision, value))}
        />
      </div>
      <div className="sheet-decision-says">
        {isOverruled ? (
          <>
            <p>
              <Mark kind="open">Your choice</Mark> in place of the computed <strong>{computed}</strong>
              {costs === null ? '' : `: ${costWords(costs, names.currency, now)}`}
            </p>
            {isReadOnly ? null : (
              <Button
                look="plain"
                onPress={() => edit(`${label} back to computed (${computed})`, (d) => backToComputed(d, decision))}
              >
                Back to computed
              </Button>
            )}
          </>
        ) : (
          <p className="sheet-soft">
            Computed: {chosen}. {because}
          </p>
        )}
      </div>
    </li>
  );
});
