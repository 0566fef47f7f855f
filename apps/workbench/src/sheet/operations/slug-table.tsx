import { memo } from 'react';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';
import { FoldedRows } from '../layout/folded-rows.js';
import { useSheet } from '../sheet-context.js';
import type { PlannedWire } from './operations.js';

/** What comes loose, and what holds it until somebody is there. */
export const SlugTable = memo(function SlugTable({ operation: op }: { readonly operation: PlannedWire }) {
  const { show } = useSheet();
  if (op.slugs.length === 0) return null;
  return (
    <>
      <h3>What comes loose</h3>
      <FigGrid label={`What comes loose in operation ${op.number}`}>
        <thead>
          <tr>
            <th scope="col">Feature</th>
            <th scope="col">Piece</th>
            <th scope="col">Held by</th>
            <th scope="col" className="sheet-number">
              Mass
            </th>
            <th scope="col" className="sheet-number">
              Tab
            </th>
          </tr>
        </thead>
        <FoldedRows
          rows={op.slugs}
          columns={5}
          row={(s) => (
            <tr key={s.feature}>
              <th scope="row">
                <button type="button" className="kit-link sheet-grid-stop" onClick={() => show({ feature: s.feature })}>
                  {s.feature}
                </button>
              </th>
              <td>{s.piece}</td>
              <td>{s.handling}</td>
              <td className="sheet-number">
                <Fig figure={s.massG} label={`Mass of the ${s.piece} of ${s.feature}`} />
              </td>
              <td className="sheet-number">
                {s.tabMm === null ? 'none' : <Fig figure={s.tabMm} label={`Tab of ${s.feature}`} />}
              </td>
            </tr>
          )}
        />
      </FigGrid>
    </>
  );
});
