import type { Decision } from '@gapwright/job';
import { type ReactNode, useState } from 'react';
import { DecisionList } from './decision-list.js';

interface RowDecisionsProps {
  readonly decisions: readonly Decision[];
  /** What the row is about, e.g. `start hole H1`. */
  readonly about: string;
  readonly columns: number;
  /** The row itself; `toggle` goes into its last cell. */
  readonly row: (toggle: ReactNode) => ReactNode;
}

/** A row of a table whose decisions open below it. What is overruled is always open. */
export function RowDecisions({ decisions, about, columns, row }: RowDecisionsProps) {
  const [isOpen, setOpen] = useState(false);
  const isOverruled = decisions.some((d) => d.isOverruled);
  const toggle =
    decisions.length === 0 || isOverruled ? null : (
      <button
        type="button"
        className="kit-link no-print"
        aria-expanded={isOpen}
        aria-label={`${isOpen ? 'Close the decisions on' : 'Change'} ${about}`}
        onClick={() => setOpen(!isOpen)}
      >
        {isOpen ? 'Close' : 'Change'}
      </button>
    );
  return (
    <>
      {row(toggle)}
      {isOverruled || isOpen ? (
        <tr>
          <td colSpan={columns} className="sheet-row-decisions">
            <DecisionList decisions={decisions} label={`Decisions on ${about}`} />
          </td>
        </tr>
      ) : null}
    </>
  );
}
