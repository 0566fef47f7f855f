import type { BurnSummary } from '@gapwright/job';
import { useMemo, useState } from 'react';
import { type BookChange, bookChanges } from '../book/book-changes.js';
import { type HeldBook, useKeepingActions } from '../keeping/index.js';
import { Button, Mark, ProblemLine } from '../kit/index.js';
import { percentText } from '../units/index.js';

/** Effects shown when none has moved. */
const SHOWN_UNMOVED = 5;

/** What the burns say about machines, materials and levels, and what that would change in the shop book. */
export function LearntSection({ summary, book }: { readonly summary: BurnSummary; readonly book: HeldBook }) {
  const actions = useKeepingActions();
  const [state, setState] = useState<'idle' | 'kept' | { readonly fault: string }>('idle');
  const { summary: learnt, book: next, problems } = summary;
  const changes = useMemo(
    (): readonly BookChange[] => (next === null ? [] : bookChanges(book.json, next.json)),
    [book.json, next],
  );
  if (learnt === null) return null;
  const moved = learnt.effects.filter((e) => e.hasMoved);
  const shown = moved.length > 0 ? moved : learnt.effects.slice(0, SHOWN_UNMOVED);
  const quality = (name: string, q: typeof learnt.before) => (
    <tr>
      <th scope="row">{name}</th>
      <td className="burns-number">{percentText(q.medianError, 1)}</td>
      <td className="burns-number">{percentText(q.coverage['80'])}</td>
      <td className="burns-number">{percentText(q.coverage['95'])}</td>
    </tr>
  );
  const keep = (): void => {
    if (next === null) return;
    actions.saveBook('shop-book', next.json, `Learnt from ${learnt.burns} burns, ${learnt.from} to ${learnt.to}`).then(
      () => setState('kept'),
      (error: unknown) => setState({ fault: error instanceof Error ? error.message : String(error) }),
    );
  };
  return (
    <>
      <section className="burns-section">
        <h2>How good the forecasts were</h2>
        <div className="burns-frame">
          <table className="burns-table">
            <thead>
              <tr>
                <th scope="col">Forecast from</th>
                <th scope="col" className="burns-number">
                  Median error
                </th>
                <th scope="col" className="burns-number">
                  Inside 80 %
                </th>
                <th scope="col" className="burns-number">
                  Inside 95 %
                </th>
              </tr>
            </thead>
            <tbody>
              {quality('the book alone', learnt.before)}
              {quality('book and burns before', learnt.after)}
              {quality('the same, later half of the log', learnt.afterLaterHalf)}
            </tbody>
          </table>
        </div>
      </section>
      <section className="burns-section">
        <h2>What the burns say</h2>
        <p>
          {moved.length > 0
            ? 'These take longer or shorter than the book says, by more than chance would give.'
            : 'Nothing has moved by more than chance would give. The largest effects:'}
        </p>
        <div className="burns-frame">
          <table className="burns-table">
            <thead>
              <tr>
                <th scope="col">Of</th>
                <th scope="col">Which</th>
                <th scope="col" className="burns-number">
                  Burns
                </th>
                <th scope="col" className="burns-number">
                  Times the book’s minutes
                </th>
                <th scope="col" className="burns-number">
                  80 % interval
                </th>
              </tr>
            </thead>
            <tbody>
              {shown.map((e) => (
                <tr key={`${e.kind}${e.name}`}>
                  <td>{e.kind === 'common' ? 'everything' : e.kind === 'tool' ? 'wire' : e.kind}</td>
                  <th scope="row">{e.name}</th>
                  <td className="burns-number">{e.burns}</td>
                  <td className="burns-number">{e.factor.toFixed(2)}</td>
                  <td className="burns-number">
                    {e.low.toFixed(2)} to {e.high.toFixed(2)}
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
        {learnt.alarms.length === 0 ? null : (
          <ul>
            {learnt.alarms.map((a) => (
              <li key={`${a.machine}${a.date}${a.kind}`}>
                <Mark kind="needs">Look at the machine</Mark> {a.machine}, {a.date}:{' '}
                {a.kind === 'drift' ? 'has drifted' : 'has jumped'}, about {percentText(Math.abs(a.factor - 1))}{' '}
                {a.factor > 1 ? 'slower' : 'faster'} than before.
              </li>
            ))}
          </ul>
        )}
      </section>
      <section className="burns-section">
        <h2>What that would change in the shop book</h2>
        {next === null || changes.length === 0 ? (
          <p>
            {state === 'kept' ? 'The new version is in use.' : 'Nothing: the book already says what the burns say.'}
          </p>
        ) : (
          <>
            <p>
              Version {next.toVersion}, made from the one in use. Effects of wire and height have no place in the book
              yet and stay out of it. Offers made earlier keep their version.
            </p>
            <details>
              <summary>
                {changes.length} {changes.length === 1 ? 'change' : 'changes'}
              </summary>
              <ul className="burns-changes">
                {changes.map((c) => (
                  <li key={`${c.leaf}${c.says}`}>
                    {c.leaf}: {c.says}
                  </li>
                ))}
              </ul>
            </details>
            <Button look="main" onPress={keep}>
              Write it into the shop book
            </Button>
          </>
        )}
        {typeof state === 'object' ? (
          <p role="alert" className="kit-fault">
            {state.fault}
          </p>
        ) : null}
        <ul>
          {problems.map((p) => (
            <ProblemLine key={`${p.code}${p.message}`} problem={p} />
          ))}
        </ul>
      </section>
    </>
  );
}
