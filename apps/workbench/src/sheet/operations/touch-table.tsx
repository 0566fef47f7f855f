import { memo } from 'react';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';
import { FoldedRows } from '../layout/folded-rows.js';
import type { PlannedOperation } from './operations.js';

/** The moments that need a person at the machine. */
export const TouchTable = memo(function TouchTable({ operation: op }: { readonly operation: PlannedOperation }) {
  if (op.touches.length === 0) return null;
  return (
    <>
      <h3>Touches</h3>
      <FigGrid label={`Touches of operation ${op.number}`}>
        <thead>
          <tr>
            <th scope="col">Touch</th>
            <th scope="col">What</th>
            <th scope="col" className="sheet-number">
              Takes
            </th>
          </tr>
        </thead>
        <FoldedRows
          rows={op.touches}
          columns={3}
          row={(t) => (
            <tr key={t.id}>
              <th scope="row">{t.id}</th>
              <td>{t.says}</td>
              <td className="sheet-number">
                <Fig figure={t.min} label={`Touch ${t.id}, operation ${op.number}: ${t.says}`} />
              </td>
            </tr>
          )}
        />
      </FigGrid>
    </>
  );
});
