import type { PlanDocument } from '@gapwright/job';
import { moneyText, percentText } from '../../units/index.js';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';

type Offer = NonNullable<PlanDocument['offer']>;

const GROUPS = {
  machine: 'Machines',
  labour: 'People',
  material: 'Material',
  'use-up': 'Wire, tubes, filters',
  once: 'Once per job',
  risk: 'Scrap',
} as const;

/** Where the cost of the order goes: each line with its share, the dearest group first. */
export function CostBars({ offer }: { readonly offer: Offer }) {
  const total = offer.totalCost.value;
  const groups = (Object.keys(GROUPS) as (keyof typeof GROUPS)[])
    .map((group) => {
      const lines = offer.lines.filter((l) => l.group === group).sort((a, b) => b.total.value - a.total.value);
      return { group, lines, sum: lines.reduce((s, l) => s + l.total.value, 0) };
    })
    .filter((g) => g.lines.length > 0)
    .sort((a, b) => b.sum - a.sum);
  return (
    <FigGrid label="Cost of the order, line by line">
      <thead>
        <tr>
          <th scope="col">Cost of the order</th>
          <th scope="col" className="sheet-number">
            All {offer.quantity} pieces
          </th>
          <th scope="col">Share</th>
        </tr>
      </thead>
      {groups.map(({ group, lines, sum }) => (
        <tbody key={group}>
          <tr className="sheet-group-row">
            <th scope="rowgroup">{GROUPS[group]}</th>
            <td className="sheet-number">{lines.length > 1 ? moneyText(sum, offer.currency) : null}</td>
            <td>{lines.length > 1 ? percentText(sum / total) : null}</td>
          </tr>
          {lines.map((line) => (
            <tr key={line.id}>
              <th scope="row" className="sheet-under">
                {line.label}
              </th>
              <td className="sheet-number">
                <Fig figure={line.total} label={line.label} />
              </td>
              <td className="sheet-bar-cell">
                <ShareBar share={line.total.value / total} />
                <span>{percentText(line.total.value / total)}</span>
              </td>
            </tr>
          ))}
        </tbody>
      ))}
      <tbody>
        <tr className="sheet-sum-row">
          <th scope="row">Cost of all pieces</th>
          <td className="sheet-number">
            <Fig figure={offer.totalCost} label="Cost of all pieces" />
          </td>
          <td />
        </tr>
        <tr>
          <th scope="row">Cost per piece</th>
          <td className="sheet-number">
            <Fig figure={offer.unitCost} label="Cost per piece" />
          </td>
          <td />
        </tr>
        <tr>
          <th scope="row">Expected cost per piece</th>
          <td className="sheet-number">
            <Fig figure={offer.expectedUnitCost} label="Expected cost per piece" />
          </td>
          <td />
        </tr>
      </tbody>
    </FigGrid>
  );
}

/** A quiet bar for a share from 0 to 1; the number stands beside it. */
export function ShareBar({ share }: { readonly share: number }) {
  return (
    <svg className="sheet-share" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
      <rect className="sheet-share-all" width={100} height={8} />
      <rect className="sheet-share-part" width={Math.min(100, Math.max(0, share) * 100)} height={8} />
    </svg>
  );
}
