import type { Conflict } from '../../keeping/index.js';
import { Button, Mark } from '../../kit/index.js';

/** Two devices changed the job side by side; both are kept until one is chosen. */
export function ConflictTable({
  conflict,
  onSettle,
}: {
  readonly conflict: Conflict;
  readonly onSettle: (keep: 'mine' | 'theirs') => void;
}) {
  const { mine, theirs, differences } = conflict;
  return (
    <section className="sheet-conflict" aria-labelledby="sheet-conflict-title">
      <h2 id="sheet-conflict-title">
        <Mark kind="needs">This job was changed on another device as well</Mark>
      </h2>
      <p>Both states are kept. Choose which one the job goes on from; the other stays in the history.</p>
      <div className="sheet-table-frame">
        <table className="sheet-table">
          <thead>
            <tr>
              <th scope="col">What differs</th>
              <th scope="col">
                Here <span className="sheet-head-unit">{madeWords(mine.madeAt, mine.madeBy)}</span>
              </th>
              <th scope="col">
                There <span className="sheet-head-unit">{madeWords(theirs.madeAt, theirs.madeBy)}</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {differences.map((d) => (
              <tr key={d.field}>
                <th scope="row">{d.label}</th>
                <td>{d.mine}</td>
                <td>{d.theirs}</td>
              </tr>
            ))}
          </tbody>
          <tfoot>
            <tr>
              <td />
              <td>
                <Button onPress={() => onSettle('mine')}>Go on from this one</Button>
              </td>
              <td>
                <Button onPress={() => onSettle('theirs')}>Go on from that one</Button>
              </td>
            </tr>
          </tfoot>
        </table>
      </div>
    </section>
  );
}

/** When and where a revision was made, in the time of the reader. */
export function madeWords(madeAt: string, madeBy: string): string {
  return `${timeWords(madeAt)}, ${madeBy}`;
}

/** A moment as `2026-11-25 10:40`. */
export function timeWords(iso: string): string {
  const at = new Date(iso);
  const two = (n: number): string => String(n).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())} ${two(at.getHours())}:${two(at.getMinutes())}`;
}
