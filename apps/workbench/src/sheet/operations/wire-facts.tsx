import { useDisplay } from '../../units/index.js';
import { nameOf } from '../book-names.js';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';
import { useSheet } from '../sheet-context.js';
import type { PlannedWire } from './operations.js';

/** What one wire operation runs on and uses. */
export function WireFacts({ operation: op }: { readonly operation: PlannedWire }) {
  const { names } = useSheet();
  const { length } = useDisplay();
  const at = `operation ${op.number}`;
  return (
    <>
      <p>
        {nameOf(names.machines, op.machineId)} with {nameOf(names.wires, op.wireId)} ({length(op.wireDiameterMm)});
        burns {length(op.burnHeightMm)} high
        {op.stack > 1 ? `, ${op.stack} plates in a stack` : ''}; {op.threadings}{' '}
        {op.threadings === 1 ? 'threading' : 'threadings'} a run.
      </p>
      <FigGrid label={`Times and wire of ${at}`}>
        <thead>
          <tr>
            <th scope="col">Machine alone</th>
            <th scope="col">Unattended</th>
            <th scope="col">Attended</th>
            <th scope="col">Wire, length</th>
            <th scope="col">Wire, mass</th>
          </tr>
        </thead>
        <tbody>
          <tr>
            <td>
              <Fig figure={op.machineMin} label={`Machine alone, ${at}`} />
            </td>
            <td>
              <Fig figure={op.unattendedMin} label={`Unattended, ${at}`} />
            </td>
            <td>
              <Fig figure={op.attendedMin} label={`Attended, ${at}`} />
            </td>
            <td>
              <Fig figure={op.wireUseM} label={`Wire used, length, ${at}`} />
            </td>
            <td>
              <Fig figure={op.wireUseKg} label={`Wire used, mass, ${at}`} />
            </td>
          </tr>
        </tbody>
      </FigGrid>
    </>
  );
}
