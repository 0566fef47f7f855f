import type { FigureJson } from '@gapwright/base';
import { type KeyboardEvent, useContext, useSyncExternalStore } from 'react';
import { useDisplay } from '../../units/index.js';
import { useSheet } from '../sheet-context.js';
import { GridContext } from './fig-grid.js';
import { type FigureReading, intervalWords, numberWords, unitSign, valueWords } from './figure-words.js';

/** Id of the margin's heading, where Enter on a figure leads. */
export const MARGIN_HEADING = 'sheet-margin-heading';

/** Puts the focus at the head of the working: what was pressed there may be gone with the figure it belonged to. */
export function focusMargin(): void {
  document.getElementById(MARGIN_HEADING)?.focus();
}

export interface FigProps {
  readonly figure: FigureJson;
  /** What the figure is, for the margin and for readers, e.g. `Burning time, pass 1`. */
  readonly label: string;
  readonly reading?: FigureReading;
  /** The unit stands in the column head. */
  readonly bare?: boolean;
  /** Leaves the interval to the margin. */
  readonly noInterval?: boolean;
}

/** A figure in the text: read it, or open its working by reaching it. */
export function Fig({ figure, label, reading = 'plain', bare = false, noInterval = false }: FigProps) {
  const { focus } = useSheet();
  const { unit } = useDisplay();
  const isInGrid = useContext(GridContext);
  const isOpen = useSyncExternalStore(focus.subscribe, () => {
    const first = focus.current()[0];
    return first?.id === figure.id && first.label === label;
  });
  const say = bare ? numberWords : valueWords;
  const interval = noInterval ? null : intervalWords(figure, unit, reading, bare ? '–' : ' to ');
  const open = (): void => focus.open({ id: figure.id, label });
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== 'Enter') return;
    event.preventDefault();
    open();
    focusMargin();
  };
  return (
    <button
      type="button"
      className="sheet-fig"
      data-open={isOpen || undefined}
      tabIndex={isInGrid ? -1 : 0}
      onFocus={open}
      onClick={open}
      onKeyDown={onKeyDown}
    >
      <span className="visually-hidden">{label}: </span>
      <span className="sheet-fig-value">{say(figure.value, figure.unit, unit, reading)}</span>
      {bare ? <span className="visually-hidden"> {unitSign(figure.unit, unit)}</span> : null}
      {interval === null ? null : (
        <span className="sheet-fig-interval">
          <span className="visually-hidden">, 80 % between </span>
          {interval}
        </span>
      )}
    </button>
  );
}
