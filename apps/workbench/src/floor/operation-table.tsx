import { Link } from 'react-router';
import { STAGE_WORDS } from '../desk/stages.js';
import { jobPath } from '../shell/places.js';
import { minutesText } from '../units/index.js';
import type { FloorJob, FloorLine, FloorMachine } from './open-operations.js';

function Touches({ line }: { readonly line: FloorLine<FloorJob> }) {
  const { touches, runs } = line.operation;
  if (touches.length === 0) return <>none</>;
  return (
    <details className="floor-touches">
      <summary>
        {line.touches} {line.touches === 1 ? 'touch' : 'touches'}
      </summary>
      <ul>
        {touches.map((touch, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: the same touch may come twice in one operation.
          <li key={index}>
            {touch.says}, {minutesText(touch.min)}
          </li>
        ))}
      </ul>
      {runs > 1 ? <p className="floor-soft">each of {runs} runs</p> : null}
    </details>
  );
}

/** Open operations, a group of lines per machine with its sums. */
export function OperationTable({ machines }: { readonly machines: readonly FloorMachine<FloorJob>[] }) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: on a narrow screen the table scrolls sideways, by keyboard too.
    <section className="floor-scroll" aria-labelledby="floor-open" tabIndex={0}>
      <table className="floor-table">
        <thead>
          <tr>
            <th scope="col">Operation</th>
            <th scope="col">Job</th>
            <th scope="col" className="floor-number">
              Runs
            </th>
            <th scope="col" className="floor-number">
              Machine alone
            </th>
            <th scope="col" className="floor-number">
              Attended
            </th>
            <th scope="col">Touches</th>
          </tr>
        </thead>
        {machines.map((machine) => (
          <tbody key={machine.id}>
            <tr className="floor-machine">
              <th scope="rowgroup" colSpan={3}>
                {machine.name}
                {machine.name === machine.id ? null : <span className="floor-soft"> {machine.id}</span>}
              </th>
              <td className="floor-number">{minutesText(machine.machineMin)}</td>
              <td className="floor-number">{minutesText(machine.attendedMin)}</td>
              <td>
                {machine.touches} {machine.touches === 1 ? 'touch' : 'touches'}
              </td>
            </tr>
            {machine.lines.map((line) => (
              <tr key={`${line.job.jobId}/${line.operation.number}`}>
                <td>
                  {line.operation.number} {line.operation.title}
                </td>
                <td>
                  <Link to={jobPath(line.job.jobId)}>{line.job.title}</Link>
                  <span className="floor-soft"> {STAGE_WORDS[line.job.stage].heading.toLowerCase()}</span>
                </td>
                <td className="floor-number">{line.operation.runs}</td>
                <td className="floor-number">{minutesText(line.machineMin)}</td>
                <td className="floor-number">{minutesText(line.attendedMin)}</td>
                <td>
                  <Touches line={line} />
                </td>
              </tr>
            ))}
          </tbody>
        ))}
      </table>
    </section>
  );
}
