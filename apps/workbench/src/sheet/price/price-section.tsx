import type { CounterOffer, Decision, PlanDocument, PriceDocument } from '@gapwright/job';
import { memo } from 'react';
import { Mark } from '../../kit/index.js';
import { chanceText, percentText } from '../../units/index.js';
import { DecisionList } from '../decisions/decision-list.js';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';
import { Section } from '../layout/section.js';
import { CostBars } from './cost-bars.js';
import { CounterOffers } from './counter-offers.js';
import { DoubtBars } from './doubt-bars.js';
import { QuantityPlot } from './quantity-plot.js';

interface PriceSectionProps {
  /** Column of the engine, for what makes the cost uncertain; null for an answer that was kept. */
  readonly column: string | null;
  readonly offer: PlanDocument['offer'];
  readonly price: PriceDocument | null;
  readonly counterOffers: readonly CounterOffer[] | null;
  readonly decisions: readonly Decision[];
  readonly isProven: boolean;
}

/** What a piece costs and is sold for, and how likely it is to lose money. */
export const PriceSection = memo(function PriceSection(props: PriceSectionProps) {
  const { column, offer, price, counterOffers, decisions, isProven } = props;
  if (offer === null) return null;
  const isOwnPrice = offer.unitPrice.value !== offer.computedUnitPrice.value;
  return (
    <Section id="price" title="Price" aside={isProven ? null : <Mark kind="open">The program is not proved yet</Mark>}>
      <p className="sheet-line-fig">
        <Fig figure={offer.unitPrice} label="Price per piece" /> a piece for {offer.quantity}; the order is{' '}
        <Fig figure={offer.orderValue} label="Order value" />. The chance that the shop loses money at this price is{' '}
        {chanceText(offer.lossRisk.value)} (<Fig figure={offer.lossRisk} label="Loss risk" reading="share" />
        ).
        {isOwnPrice ? (
          <>
            {' '}
            The margin rule would ask <Fig figure={offer.computedUnitPrice} label="Price by the margin rule" />.
          </>
        ) : null}
      </p>
      {decisions.length === 0 ? null : <DecisionList decisions={decisions} label="Decision on the price" />}
      <FigGrid label="Price by loss risk">
        <thead>
          <tr>
            <th scope="col">To lose money</th>
            {offer.atRisk.map((r) => (
              <th key={r.risk} scope="col" className="sheet-number">
                {r.risk === 0.05
                  ? '1 time in 20'
                  : r.risk === 0.1
                    ? '1 time in 10'
                    : r.risk === 0.2
                      ? '1 time in 5'
                      : percentText(r.risk)}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          <tr>
            <th scope="row">ask per piece</th>
            {offer.atRisk.map((r) => (
              <td key={r.risk} className="sheet-number">
                <Fig figure={r.unitPrice} label={`Price per piece at a loss risk of ${percentText(r.risk)}`} />
              </td>
            ))}
          </tr>
        </tbody>
      </FigGrid>
      <CostBars offer={offer} />
      {price === null ? (
        <p className="sheet-soft">Prices at other quantities and what would lower the price are being worked out …</p>
      ) : price.table.length === 0 ? null : (
        <>
          <FigGrid label="Price by quantity">
            <thead>
              <tr>
                <th scope="col">Pieces</th>
                <th scope="col" className="sheet-number">
                  Price per piece
                </th>
                <th scope="col" className="sheet-number">
                  Cost per piece
                </th>
                <th scope="col" className="sheet-number">
                  Loss risk
                </th>
              </tr>
            </thead>
            <tbody>
              {price.table.map((row) => (
                <tr key={row.quantity}>
                  <th scope="row">{row.quantity}</th>
                  <td className="sheet-number">
                    <Fig figure={row.unitPrice} label={`Price per piece at ${row.quantity}`} />
                  </td>
                  <td className="sheet-number">
                    <Fig figure={row.unitCost} label={`Cost per piece at ${row.quantity}`} />
                  </td>
                  <td className="sheet-number">
                    <Fig figure={row.lossRisk} label={`Loss risk at ${row.quantity}`} reading="share" />
                  </td>
                </tr>
              ))}
            </tbody>
          </FigGrid>
          <QuantityPlot table={price.table} />
        </>
      )}
      {counterOffers === null ? null : <CounterOffers offers={counterOffers} currency={offer.currency} />}
      {column === null ? null : <DoubtBars column={column} unitCost={offer.unitCost} />}
    </Section>
  );
});
