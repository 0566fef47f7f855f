import type { WorkingJson, WorkingTable } from '@gapwright/base';
import type { OpenedFigure } from '@gapwright/job';
import { percentText, useDisplay } from '../../units/index.js';
import { focusMargin } from '../figure/fig.js';
import type { OpenRef } from '../figure/figure-focus.js';
import { intervalWords, unitSign, valueWords } from '../figure/figure-words.js';
import { useSheet } from '../sheet-context.js';
import { doubtShares, doubtWords } from './doubt-words.js';
import { formulaWithNumbers } from './formula-numbers.js';
import { IntervalLine } from './interval-line.js';
import { Pulls } from './pulls.js';
import { standingWords } from './standing-words.js';

interface WorkingProps {
  readonly refShown: OpenRef;
  readonly table: WorkingTable;
  readonly row: WorkingJson;
  readonly opened: OpenedFigure | null;
}

/** One figure taken apart: law, numbers, inputs, source, doubts. */
export function Working({ refShown, table, row, opened }: WorkingProps) {
  const { unit } = useDisplay();
  const { focus } = useSheet();
  const inputs = Object.entries(row.inputs ?? {});
  const interval = intervalWords(row, unit, 'plain', ' and ');
  const source = table.sources[row.source];
  return (
    <div className="sheet-working">
      <h3>{refShown.label}</h3>
      <p className="sheet-working-value">
        {valueWords(row.value, row.unit, unit)}
        {interval === null ? <span className="sheet-soft"> exact</span> : null}
      </p>
      {interval === null ? null : (
        <div className="sheet-working-interval">
          <IntervalLine low={row.low} value={row.value} high={row.high} />
          <p className="sheet-soft">80 % between {interval}</p>
        </div>
      )}
      <p>{row.says}</p>
      {row.formula === undefined ? null : (
        <div className="sheet-formula">
          <code>{row.formula}</code>
          <code>
            = {numbersIn(row.formula, inputs, table)} = {resultText(row)}
          </code>
        </div>
      )}
      {(row.outsideRange ?? []).map((says) => (
        <p key={says} className="sheet-outside">
          <span aria-hidden="true">▲</span> Outside the range of the law: {says}.
        </p>
      ))}
      {inputs.length === 0 ? null : (
        <>
          <h4>Made from</h4>
          <ul className="sheet-inputs">
            {inputs.map(([name, id]) => {
              const input = table.figures[id];
              if (input === undefined) return null;
              const label = labelOfInput(name, input);
              return (
                <li key={name}>
                  <button
                    type="button"
                    className="sheet-input-link"
                    onClick={() => {
                      focus.into({ id, label });
                      focusMargin();
                    }}
                  >
                    <span className="sheet-input-name">{name}</span>
                    <span className="sheet-input-value">{valueWords(input.value, input.unit, unit)}</span>
                    {input.says === name ? null : <span className="sheet-input-says">{input.says}</span>}
                  </button>
                </li>
              );
            })}
          </ul>
        </>
      )}
      {opened === null ? null : (
        <Pulls opened={opened} row={row} nameOf={(name, id) => inputWords(name, table.figures[id])} />
      )}
      <Doubts row={row} />
      {source === undefined ? null : (
        <>
          <h4>Rests on</h4>
          <p>
            {source.title}
            {source.where === undefined ? '' : ` (${source.where})`}. <em>{standingWords(source.standing)}.</em>
          </p>
        </>
      )}
    </div>
  );
}

/** An input's name with what it is, e.g. `a (area rate of the rough cut)`. */
function inputWords(name: string, input: WorkingJson | undefined): string {
  if (input === undefined || name.length > 4) return name;
  return `${name} (${labelOfInput(name, input)})`;
}

/** Short names such as `a0` mean little away from their formula; what the input says stands with them. */
function labelOfInput(name: string, input: WorkingJson): string {
  if (name.length > 4) return name;
  const says = input.says.replace(/\.$/, '');
  return says.length > 60 ? `${says.slice(0, 57)}…` : says;
}

function numbersIn(formula: string, inputs: readonly (readonly [string, string])[], table: WorkingTable): string {
  const numbers = Object.fromEntries(
    inputs.map(([name, id]) => {
      const input = table.figures[id];
      return [name, input === undefined ? name : plainNumber(input)];
    }),
  );
  return formulaWithNumbers(formula, numbers);
}

/** Formulas are made for mm, µm and minutes: numbers go in as they are worked with, whatever unit the page shows. */
function plainNumber({ value }: WorkingJson): string {
  return value === 0 ? '0' : String(Number(value.toPrecision(4)));
}

function resultText(row: WorkingJson): string {
  const text = plainNumber(row);
  const sign = unitSign(row.unit, 'mm');
  return sign === '' ? text : `${text} ${sign}`;
}

function Doubts({ row }: { readonly row: WorkingJson }) {
  const { unit } = useDisplay();
  const shares = doubtShares(row.doubts);
  if (shares.length === 0) return null;
  return (
    <>
      <h4>Where the doubt comes from</h4>
      <ul className="sheet-doubts">
        {shares.slice(0, MOST_DOUBTS).map(({ cause, share }) => (
          <li key={cause}>
            <span>{doubtWords(cause)}</span>
            <span className="sheet-doubt-share">{percentText(share)}</span>
            <svg className="sheet-share" viewBox="0 0 100 8" preserveAspectRatio="none" aria-hidden="true">
              <rect width={100} height={8} className="sheet-share-all" />
              <rect width={100 * share} height={8} className="sheet-share-part" />
            </svg>
          </li>
        ))}
      </ul>
      <p className="sheet-soft">
        One standard deviation of the first moves this by{' '}
        {valueWords(Math.abs(row.doubts?.[shares[0]!.cause] ?? 0), row.unit, unit)}.
      </p>
    </>
  );
}

const MOST_DOUBTS = 6;
