import type { PlanDocument } from '@gapwright/job';
import { memo } from 'react';
import { nameOf } from '../book-names.js';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';
import { goToSection } from '../layout/contents.js';
import { Section } from '../layout/section.js';
import { operationSectionId } from '../operations/operation-title.js';
import type { PlannedOperation } from '../operations/operations.js';
import { useSheet } from '../sheet-context.js';

interface RouteProps {
  readonly operations: readonly PlannedOperation[];
  readonly totals: PlanDocument['totals'];
}

/** The operations in their order, with who is needed and for how long. */
export const Route = memo(function Route({ operations, totals }: RouteProps) {
  const { names } = useSheet();
  return (
    <Section id="route" title="Route">
      <FigGrid label="Operations of the route">
        <thead>
          <tr>
            <th scope="col">No.</th>
            <th scope="col">Operation</th>
            <th scope="col">Machine</th>
            <th scope="col" className="sheet-number">
              Runs
            </th>
            <th scope="col" className="sheet-number">
              Machine alone, a run
            </th>
            <th scope="col" className="sheet-number">
              Attended, a run
            </th>
            <th scope="col" className="sheet-number">
              Touches, a run
            </th>
          </tr>
        </thead>
        <tbody>
          {operations.map((op) => (
            <tr key={op.number}>
              <th scope="row">
                <button
                  type="button"
                  className="kit-link sheet-grid-stop"
                  onClick={() => goToSection(operationSectionId(op.number))}
                >
                  {op.number}
                </button>
              </th>
              <td>{op.title}</td>
              <td>{op.process === 'other' ? 'bench' : nameOf(names.machines, op.machineId)}</td>
              <td className="sheet-number">{op.runs}</td>
              <td className="sheet-number">
                {op.process === 'other' ? (
                  '–'
                ) : (
                  <Fig figure={op.machineMin} label={`Operation ${op.number}: machine alone`} />
                )}
              </td>
              <td className="sheet-number">
                <Fig figure={op.attendedMin} label={`Operation ${op.number}: attended`} />
              </td>
              <td className="sheet-number">{op.touches.length}</td>
            </tr>
          ))}
        </tbody>
        {totals === null ? null : (
          <tfoot>
            <tr>
              <th scope="row" colSpan={4}>
                All pieces
              </th>
              <td className="sheet-number">
                <Fig figure={totals.machineMin} label="Machine alone, all pieces" />
              </td>
              <td className="sheet-number">
                <Fig figure={totals.attendedMin} label="Attended, all pieces" />
              </td>
              <td className="sheet-number">
                <Fig figure={totals.touches} label="Touches, all pieces" reading="count" />
              </td>
            </tr>
          </tfoot>
        )}
      </FigGrid>
      {totals === null ? null : (
        <p className="sheet-line-fig">
          Burning for all pieces: <Fig figure={totals.burnMin} label="Burning time, all pieces" />
        </p>
      )}
    </Section>
  );
});
