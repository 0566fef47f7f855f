import type { WorkingJson } from '@gapwright/base';
import type { OpenedFigure } from '@gapwright/job';
import { useDisplay } from '../../units/index.js';
import { valueWords } from '../figure/figure-words.js';

const MOST_PULLS = 5;

/** Which input would change the figure most, each at the ends of its own interval. */
export function Pulls({
  opened,
  row,
  nameOf,
}: {
  readonly opened: OpenedFigure;
  readonly row: WorkingJson;
  /** An input's name with what it is. */
  readonly nameOf: (name: string, figureId: string) => string;
}) {
  const { unit } = useDisplay();
  const pulls = opened.pulls.filter((p) => p.atLow !== p.atHigh);
  const most = pulls[0];
  if (most === undefined) return null;
  const ends = pulls.flatMap((p) => [p.atLow, p.atHigh]);
  const low = Math.min(row.value, ...ends);
  const high = Math.max(row.value, ...ends);
  const at = (v: number): number => ((v - low) / (high - low)) * 100;
  return (
    <>
      <h4>What would change it most</h4>
      <p>
        <strong>{nameOf(most.name, most.figure.id)}</strong>: at {valueWords(most.figure.low, most.figure.unit, unit)}{' '}
        this is {valueWords(most.atLow, row.unit, unit)}, at {valueWords(most.figure.high, most.figure.unit, unit)} it
        is {valueWords(most.atHigh, row.unit, unit)}.
      </p>
      <ul className="sheet-pulls">
        {pulls.slice(0, MOST_PULLS).map((p) => {
          const from = at(Math.min(p.atLow, p.atHigh));
          return (
            <li key={p.name}>
              <span className="sheet-pull-name">{p.name}</span>
              <svg viewBox="0 0 100 10" preserveAspectRatio="none" aria-hidden="true">
                <rect x={from} width={Math.max(1, at(Math.max(p.atLow, p.atHigh)) - from)} y={2} height={6} />
                <line x1={at(row.value)} x2={at(row.value)} y1={0} y2={10} />
              </svg>
              <span className="sheet-pull-ends">
                {valueWords(Math.min(p.atLow, p.atHigh), row.unit, unit)} to{' '}
                {valueWords(Math.max(p.atLow, p.atHigh), row.unit, unit)}
              </span>
            </li>
          );
        })}
      </ul>
    </>
  );
}
