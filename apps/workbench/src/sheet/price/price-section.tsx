import type { CounterOffer, PlanDocument, PriceDocument } from '@gapwright/job';
import { memo } from 'react';
import { Button, Mark } from '../../kit/index.js';
import { chanceText } from '../../units/index.js';
import { Fig } from '../figure/fig.js';
import { FigGrid } from '../figure/fig-grid.js';
import { Section } from '../layout/section.js';
import { withChange } from '../requirements/draft-fields.js';
import { useSheet } from '../sheet-context.js';

interface PriceSectionProps {
  readonly offer: PlanDocument['offer'];
  readonly price: PriceDocument | null;
  readonly counterOffers: readonly CounterOffer[] | null;
  readonly isProven: boolean;
}

/** What a piece costs and is sold for, and how likely it is to lose money. */
export const PriceSection = memo(function PriceSection({ offer, price, counterOffers, isProven }: PriceSectionProps) {
  const { tryOut, isReadOnly } = useSheet();
  if (offer === null) return null;
  return (
    <Section id="price" title="Price" aside={isProven ? null : <Mark kind="open">The program is not proved yet</Mark>}>
      <p className="sheet-line-fig">
        <Fig figure={offer.unitPrice} label="Price per piece" /> a piece for {offer.quantity}; the order is{' '}
        <Fig figure={offer.orderValue} label="Order value" />. At this price the shop loses money{' '}
        {chanceText(offer.lossRisk.value)} (<Fig figure={offer.lossRisk} label="Loss risk" reading="share" />
        ).
      </p>
      <FigGrid label="Cost of the order by line">
        <thead>
          <tr>
            <th scope="col">Cost</th>
            <th scope="col" className="sheet-number">
              All pieces
            </th>
          </tr>
        </thead>
        <tbody>
          {offer.lines.map((line) => (
            <tr key={line.id}>
              <th scope="row">{line.label}</th>
              <td className="sheet-number">
                <Fig figure={line.total} label={line.label} />
              </td>
            </tr>
          ))}
        </tbody>
      </FigGrid>
      {price === null || price.table.length === 0 ? null : (
        <FigGrid label="Price by quantity">
          <thead>
            <tr>
              <th scope="col">Pieces</th>
              <th scope="col" className="sheet-number">
                Price per piece
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
                  <Fig figure={row.lossRisk} label={`Loss risk at ${row.quantity}`} reading="share" />
                </td>
              </tr>
            ))}
          </tbody>
        </FigGrid>
      )}
      {counterOffers === null || counterOffers.length === 0 ? null : (
        <ul className="sheet-lines">
          {counterOffers.map((o) => (
            <li key={o.id}>
              {o.says}: {Math.round(o.savingShare * 100)} % less.{' '}
              {isReadOnly ? null : (
                <Button look="plain" onPress={() => tryOut((d) => withChange(d, o.change))}>
                  Try it
                </Button>
              )}
            </li>
          ))}
        </ul>
      )}
    </Section>
  );
});
