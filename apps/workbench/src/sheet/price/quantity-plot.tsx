import type { PriceDocument } from '@gapwright/job';
import { linearScale, logScale } from '../../plots/scale.js';
import { moneyText } from '../../units/index.js';

type Row = PriceDocument['table'][number];

const WIDTH = 520;
const HEIGHT = 240;
const LEFT = 62;
const RIGHT = 14;
const TOP = 14;
const BOTTOM = 40;

/** Price per piece by quantity over the range its cost may take: where the price dips into the range, the job may lose. */
export function QuantityPlot({ table }: { readonly table: readonly Row[] }) {
  if (table.length < 2) return null;
  const quantities = table.map((r) => r.quantity);
  const top = Math.max(...table.flatMap((r) => [r.unitPrice.value, r.unitCost.high]));
  const x = logScale(Math.min(...quantities) / 1.15, Math.max(...quantities) * 1.15, LEFT, WIDTH - RIGHT);
  const y = linearScale(0, top * 1.08, HEIGHT - BOTTOM, TOP);
  const line = (of: (r: Row) => number): string =>
    table.map((r, i) => `${i === 0 ? 'M' : 'L'}${x.at(r.quantity).toFixed(1)} ${y.at(of(r)).toFixed(1)}`).join('');
  const band = [
    ...table.map((r) => [r.quantity, r.unitCost.high]),
    ...[...table].reverse().map((r) => [r.quantity, r.unitCost.low]),
  ];
  const first = table[0]!;
  const last = table.at(-1)!;
  const says = `${moneyText(first.unitPrice.value, first.currency)} a piece at ${first.quantity}, ${moneyText(last.unitPrice.value, last.currency)} at ${last.quantity}.`;
  return (
    <figure className="sheet-plot">
      <figcaption>Price per piece by quantity, over the 80 % range of its cost</figcaption>
      <svg
        viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
        role="img"
        aria-label={`Price per piece by quantity. ${says} The table has the same numbers.`}
      >
        {y.ticks.map((t) => (
          <g key={t}>
            <line className="sheet-plot-grid" x1={LEFT} x2={WIDTH - RIGHT} y1={y.at(t)} y2={y.at(t)} />
            <text className="sheet-plot-text" x={LEFT - 8} y={y.at(t) + 4} textAnchor="end">
              {t}
            </text>
          </g>
        ))}
        <path
          className="sheet-plot-band"
          d={`${band.map(([q, v], i) => `${i === 0 ? 'M' : 'L'}${x.at(q!).toFixed(1)} ${y.at(v!).toFixed(1)}`).join('')}Z`}
        />
        <path className="sheet-plot-dashed" d={line((r) => r.unitCost.value)} />
        <path className="sheet-plot-line" d={line((r) => r.unitPrice.value)} />
        {table.map((r) => (
          <g key={r.quantity}>
            <circle className="sheet-plot-dot" cx={x.at(r.quantity)} cy={y.at(r.unitPrice.value)} r={3} />
            <text className="sheet-plot-text" x={x.at(r.quantity)} y={HEIGHT - BOTTOM + 17} textAnchor="middle">
              {r.quantity}
            </text>
          </g>
        ))}
        <text className="sheet-plot-text" x={(LEFT + WIDTH - RIGHT) / 2} y={HEIGHT - 6} textAnchor="middle">
          pieces
        </text>
        <text className="sheet-plot-text" x={LEFT + 6} y={TOP + 4}>
          {first.currency} per piece
        </text>
      </svg>
      <p className="sheet-soft">Solid line: price. Dashed line: median cost. Grey: where 8 of 10 costs would lie.</p>
    </figure>
  );
}
