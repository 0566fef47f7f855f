import { memo } from 'react';
import { decisionsOn, type PlacedDecisions } from '../decisions/feature-decisions.js';
import { RowDecisions } from '../decisions/row-decisions.js';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';
import { FoldedRows } from '../layout/folded-rows.js';
import { useSheet } from '../sheet-context.js';
import type { PlannedWire } from './operations.js';

/** What comes loose, and what holds it until somebody is there. */
export const SlugTable = memo(function SlugTable({
  operation: op,
  placed,
}: {
  readonly operation: PlannedWire;
  readonly placed: PlacedDecisions;
}) {
  const { show } = useSheet();
  if (op.slugs.length === 0) return null;
  return (
    <>
      <h3>Slugs and loose pieces</h3>
      <FigGrid label={`Slugs and loose pieces of operation ${op.number}`}>
        <thead>
          <tr>
            <th scope="col">Feature</th>
            <th scope="col">Piece</th>
            <th scope="col">Handling</th>
            <th scope="col" className="sheet-number">
              Mass
            </th>
            <th scope="col" className="sheet-number">
              Tab
            </th>
            <th scope="col">
              <span className="visually-hidden">Decision</span>
            </th>
          </tr>
        </thead>
        <FoldedRows
          rows={op.slugs}
          columns={6}
          row={(s) => (
            <RowDecisions
              key={s.feature}
              about={`the ${s.piece} of ${s.feature}`}
              columns={6}
              decisions={decisionsOn(placed, ['slug', 'tab'], [s.feature])}
              row={(toggle) => (
                <tr>
                  <th scope="row">
                    <button
                      type="button"
                      className="kit-link sheet-grid-stop"
                      onClick={() => show({ feature: s.feature })}
                    >
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
                  <td>{toggle}</td>
                </tr>
              )}
            />
          )}
        />
      </FigGrid>
    </>
  );
});
