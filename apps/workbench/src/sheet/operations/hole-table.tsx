import { memo } from 'react';
import { useDisplay } from '../../units/index.js';
import { FoldedRows } from '../layout/folded-rows.js';
import { useSheet } from '../sheet-context.js';
import type { PlannedWire } from './operations.js';

interface HoleTableProps {
  readonly title: string;
  readonly holes: PlannedWire['startHoles'];
}

/** Start holes with their places; a cut from the edge has none. */
export const HoleTable = memo(function HoleTable({ title, holes }: HoleTableProps) {
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
            </tr>
          </thead>
          <FoldedRows
            rows={holes}
            columns={4}
            row={(h) => (
              <tr key={h.id}>
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
              </tr>
            )}
          />
        </table>
      </div>
    </>
  );
});
