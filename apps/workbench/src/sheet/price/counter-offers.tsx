import type { CounterOffer } from '@gapwright/job';
import { Button } from '../../kit/index.js';
import { moneyText, percentText } from '../../units/index.js';
import { withChange } from '../requirements/draft-fields.js';
import { useSheet } from '../sheet-context.js';

/** Changes of the drawing or the order, planned to the end: what each would save. */
export function CounterOffers({
  offers,
  currency,
}: {
  readonly offers: readonly CounterOffer[];
  readonly currency: string;
}) {
  const { tryOut, isReadOnly } = useSheet();
  return (
    <div>
      <h3>What would lower the price</h3>
      {offers.length === 0 ? (
        <p>None of the changes tried (corner radius, tolerance, finish, height, quantity) saves 2 % or more.</p>
      ) : (
        <table className="sheet-table">
          <thead>
            <tr>
              <th scope="col">Change</th>
              <th scope="col" className="sheet-number">
                Saves
              </th>
              <th scope="col" className="sheet-number">
                Price per piece
              </th>
              <th scope="col" className="sheet-number">
                Burning
              </th>
              <th scope="col" className="no-print">
                <span className="visually-hidden">Try it</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {offers.map((o) => (
              <tr key={o.id}>
                <th scope="row">{o.says}</th>
                <td className="sheet-number">{percentText(o.savingShare)}</td>
                <td className="sheet-number">{moneyText(o.unitPrice, currency)}</td>
                <td className="sheet-number">
                  {o.burnChange <= 0 ? '−' : '+'}
                  {percentText(Math.abs(o.burnChange))}
                </td>
                <td className="no-print">
                  {isReadOnly ? null : (
                    <Button
                      look="plain"
                      aria-label={`Try it: ${o.says}`}
                      onPress={() => tryOut((d) => withChange(d, o.change))}
                    >
                      Try it
                    </Button>
                  )}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
    </div>
  );
}
