import type { Offer } from '@gapwright/costing';
import type { PriceStudy } from '@gapwright/job';
import { textTable, wrap } from '../text-table.js';
import { money, moneySpread, percent } from './numbers.js';

/** Cost build-up, prices at quantities, and what drives the price. */
export function priceText(offer: Offer, study: PriceStudy): string {
  const { currency } = offer;
  const lines = offer.costs.lines.map((l) => [
    l.label,
    l.total.value.toFixed(2),
    `${l.total.low.toFixed(2)}-${l.total.high.toFixed(2)}`,
  ]);
  const total = offer.costs.total;
  lines.push(['Whole cost', total.value.toFixed(2), `${total.low.toFixed(2)}-${total.high.toFixed(2)}`]);
  const out = [
    `Cost of ${offer.quantity} in ${currency}, 80 % intervals`,
    textTable(['', 'median', '80 %'], lines, [0]),
    '',
    `Offered: ${money(offer.unitPrice, currency)} each (margin rule: ${money(offer.computedUnitPrice, currency)}); loss risk ${percent(offer.lossRisk.value, 1)}`,
    offer.atRisk.map((r) => `at ${money(r.unitPrice, currency)} the risk is ${percent(r.risk)}`).join('; '),
  ];
  if (study.table.length > 0) {
    const rows = study.table.map((o) => [
      String(o.quantity),
      money(o.unitPrice, currency),
      moneySpread(o.costs.perPiece, currency),
      percent(o.lossRisk.value, 1),
    ]);
    out.push('', textTable(['quantity', 'price each', 'cost each (80 %)', 'loss risk'], rows, []));
  }
  if (study.drivers.length > 0) {
    out.push('', 'What drives the price (each change planned again):');
    for (const d of study.drivers) {
      const saved = d.saving.value;
      const words =
        Math.abs(saved) < 0.005
          ? 'changes nothing'
          : `${percent(Math.abs(saved))} ${saved > 0 ? 'cheaper' : 'dearer'}, ${money(d.unitPrice, currency)} each, burning ${signed(d.burnChange)}`;
      out.push(wrap(`  ${d.says}: ${words}.`, 100, '    '));
    }
  }
  return out.join('\n');
}

function signed(share: number): string {
  return `${share > 0 ? '+' : ''}${percent(share)}`;
}
