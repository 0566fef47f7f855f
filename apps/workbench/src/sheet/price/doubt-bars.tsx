import type { FigureJson } from '@gapwright/base';
import { useOpenedFigure } from '../../engine/index.js';
import { percentText } from '../../units/index.js';
import { doubtWords } from '../margin/doubt-words.js';
import { ShareBar } from './cost-bars.js';

const MOST = 6;

/** What makes the cost uncertain, largest first: where a trial cut or a logged burn would pay. */
export function DoubtBars({ column, unitCost }: { readonly column: string; readonly unitCost: FigureJson }) {
  const opened = useOpenedFigure(column, unitCost.id, unitCost);
  const doubts = (opened?.doubts ?? []).slice(0, MOST);
  if (doubts.length === 0) return null;
  return (
    <div>
      <h3>What makes the cost uncertain</h3>
      <table className="sheet-table" aria-label="What makes the cost uncertain">
        <tbody>
          {doubts.map((d) => (
            <tr key={d.cause}>
              <th scope="row">{sentence(doubtWords(d.cause))}</th>
              <td className="sheet-bar-cell">
                <ShareBar share={d.share} />
                <span>{percentText(d.share)}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="sheet-soft">Share of the variance of the cost per piece. Burns you log narrow it.</p>
    </div>
  );
}

function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
