import { memo } from 'react';
import { useDisplay } from '../../units/index.js';
import { decisionsOn, type PlacedDecisions } from '../decisions/feature-decisions.js';
import { RowDecisions } from '../decisions/row-decisions.js';
import { FoldedRows } from '../layout/folded-rows.js';
import { useSheet } from '../sheet-context.js';
import type { PlannedWire } from './operations.js';

interface HoleTableProps {
  readonly title: string;
  readonly holes: PlannedWire['startHoles'];
  /** Where the holes may be moved; absent where they follow from another operation. */
  readonly placed?: PlacedDecisions;
}

/** Start holes with their places; a cut from the edge has none. */
export const HoleTable = memo(function HoleTable({ title, holes, placed }: HoleTableProps) {
  const { length } = useDisplay();
  const { show } = useSheet();
  if (holes.length === 0) return null;
  return (
    <>
      <h3>{title}</h3>
      <div className="sheet-table-frame">
        <table className="sheet-table">
          <caption className="visually-hidden">{title}</caption>
          <thead>
            <tr>
              <th scope="col">Hole</th>
              <th scope="col" className="sheet-number">
                Diameter
              </th>
              <th scope="col">Place</th>
              <th scope="col">Features</th>
              <th scope="col">
                <span className="visually-hidden">Decision</span>
              </th>
            </tr>
          </thead>
          <FoldedRows
            rows={holes}
            columns={5}
            row={(h) => (
              <RowDecisions
                key={h.id}
                about={`start hole ${h.id}`}
                columns={5}
                decisions={placed === undefined ? [] : decisionsOn(placed, ['startHole'], h.features)}
                row={(toggle) => (
                  <tr>
                    <th scope="row">
                      <button
                        type="button"
                        className="kit-link"
                        onClick={() => show({ mark: h.id, xMm: h.at.x, yMm: h.at.y })}
                      >
                        {h.id}
                      </button>
                    </th>
                    <td className="sheet-number">{h.fromEdge ? 'none' : length(h.diameterMm)}</td>
                    <td>
                      {h.fromEdge ? 'from the edge at ' : ''}({length(h.at.x)}, {length(h.at.y)})
                    </td>
                    <td>{h.features.join(', ')}</td>
                    <td>{toggle}</td>
                  </tr>
                )}
              />
            )}
          />
        </table>
      </div>
    </>
  );
});
