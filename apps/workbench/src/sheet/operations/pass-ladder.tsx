import type { FigureJson } from '@gapwright/base';
import { memo } from 'react';
import { useDisplay } from '../../units/index.js';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';
import { unitSign } from '../figure/figure-words.js';
import type { PlannedWire } from './operations.js';

type Pass = PlannedWire['passes'][number];

const COLUMNS: readonly {
  readonly head: string;
  readonly unit: string | null;
  readonly says: string;
  readonly of: (pass: Pass) => FigureJson;
}[] = [
  { head: 'Gap', unit: 'mm', says: 'spark gap', of: (p) => p.gapMm },
  { head: 'Stock taken', unit: 'mm', says: 'stock taken', of: (p) => p.stockMm },
  { head: 'Offset', unit: 'mm', says: 'offset', of: (p) => p.offsetMm },
  { head: 'Feed', unit: 'mm/min', says: 'feed', of: (p) => p.feedMmPerMin },
  { head: 'Path', unit: 'mm', says: 'path length', of: (p) => p.pathMm },
  { head: 'Burning', unit: null, says: 'burning time', of: (p) => p.burnMin },
  { head: 'Ra', unit: 'um', says: 'surface left, Ra', of: (p) => p.raUm },
  { head: 'Recast', unit: 'um', says: 'recast layer left', of: (p) => p.recastUm },
];

/** The passes from rough to the finest. */
export const PassLadder = memo(function PassLadder({ operation }: { readonly operation: PlannedWire }) {
  const { unit } = useDisplay();
  return (
    <FigGrid isTight label={`Pass ladder of operation ${operation.number}`}>
      <thead>
        <tr>
          <th scope="col">Pass</th>
          {COLUMNS.map((c) => (
            <th key={c.head} scope="col" className="sheet-number">
              {c.head}
              {c.unit === null ? null : <span className="sheet-head-unit">{unitSign(c.unit, unit)}</span>}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {operation.passes.map((pass) => (
          <tr key={pass.pass}>
            <th scope="row">
              {pass.pass} <span className="sheet-soft">{pass.levelName}</span>
            </th>
            {COLUMNS.map((c) => (
              <td key={c.head} className="sheet-number">
                <Fig
                  figure={c.of(pass)}
                  label={`Pass ${pass.pass}, operation ${operation.number}: ${c.says}`}
                  bare={c.unit !== null}
                />
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </FigGrid>
  );
});
