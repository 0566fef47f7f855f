import type { OfferRecord } from '@gapwright/records';
import { Button } from '../../kit/index.js';
import { chanceText, moneyText } from '../../units/index.js';
import { timeWords } from './conflict.js';

/** Offers as they went to the customer; each opens exactly as it was. */
export function Offers({
  offers,
  onOpen,
}: {
  readonly offers: readonly OfferRecord[];
  readonly onOpen: (offer: OfferRecord) => void;
}) {
  return (
    <table className="sheet-table">
      <thead>
        <tr>
          <th scope="col">Made</th>
          <th scope="col" className="sheet-number">
            Pieces
          </th>
          <th scope="col" className="sheet-number">
            Price per piece
          </th>
          <th scope="col">Loss risk</th>
          <th scope="col">Promised for</th>
          <th scope="col">
            <span className="visually-hidden">Open</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {[...offers].reverse().map((o) => (
          <tr key={o.id}>
            <th scope="row">{timeWords(o.madeAt)}</th>
            <td className="sheet-number">{o.quantity}</td>
            <td className="sheet-number">{moneyText(o.unitPrice, o.currency)}</td>
            <td>{chanceText(o.lossRisk)}</td>
            <td>{o.promisedDay ?? 'no day'}</td>
            <td>
              <Button look="plain" onPress={() => onOpen(o)}>
                Open as offered
              </Button>
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
