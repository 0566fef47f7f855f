import { useState } from 'react';
import { Button, Mark } from '../kit/index.js';
import { minutesText, useDisplay } from '../units/index.js';
import type { SeenBurn } from './seen-burn.js';

interface BurnTableProps {
  readonly burns: readonly SeenBurn[];
  readonly onCorrect: (id: string) => void;
  readonly onStrike: (id: string) => void;
}

const PAGE = 40;

/** The log, newest first. */
export function BurnTable({ burns, onCorrect, onStrike }: BurnTableProps) {
  const { length } = useDisplay();
  const [shown, setShown] = useState(PAGE);
  const newest = [...burns].reverse();
  return (
    <>
      <div className="burns-frame">
        <table className="burns-table" aria-label="Burns, newest first">
          <thead>
            <tr>
              <th scope="col">Day</th>
              <th scope="col">Machine</th>
              <th scope="col">Material</th>
              <th scope="col">Wire</th>
              <th scope="col" className="burns-number">
                Height
              </th>
              <th scope="col" className="burns-number">
                Level
              </th>
              <th scope="col" className="burns-number">
                Expected
              </th>
              <th scope="col" className="burns-number">
                Forecast, 80 % interval
              </th>
              <th scope="col" className="burns-number">
                Actual
              </th>
              <th scope="col">Held</th>
              <th scope="col">Note</th>
              <th scope="col" className="no-print">
                <span className="visually-hidden">Correct or strike</span>
              </th>
            </tr>
          </thead>
          <tbody>
            {newest.slice(0, shown).map((b) => {
              const about = `burn of ${b.content.day} on ${b.content.machine}`;
              return (
                <tr key={b.id}>
                  <th scope="row">{b.content.day}</th>
                  <td>{b.content.machine}</td>
                  <td>{b.content.material}</td>
                  <td>{b.content.wire}</td>
                  <td className="burns-number">{length(b.content.heightMm)}</td>
                  <td className="burns-number">{b.content.level}</td>
                  <td className="burns-number">{minutesText(b.content.predictedMin)}</td>
                  <td className="burns-number">
                    {minutesText(b.forecastMin)} ({minutesText(b.low80Min)} to {minutesText(b.high80Min)})
                  </td>
                  <td className="burns-number">{minutesText(b.content.actualMin)}</td>
                  <td>
                    {b.isIn80 ? (
                      'inside'
                    ) : (
                      <Mark kind="needs">{b.content.actualMin > b.high80Min ? 'longer' : 'shorter'}</Mark>
                    )}
                  </td>
                  <td className="burns-note">{b.content.note}</td>
                  <td className="no-print">
                    <Button look="plain" aria-label={`Correct the ${about}`} onPress={() => onCorrect(b.id)}>
                      Correct
                    </Button>{' '}
                    <Button look="plain" aria-label={`Strike the ${about}`} onPress={() => onStrike(b.id)}>
                      Strike
                    </Button>
                  </td>
                </tr>
              );
            })}
          </tbody>
        </table>
      </div>
      {newest.length > shown ? (
        <Button onPress={() => setShown(shown + 5 * PAGE)}>{`Show more (${newest.length - shown} left)`}</Button>
      ) : null}
    </>
  );
}
