import type { FigureJson } from '@gapwright/base';
import { type KeyboardEvent, useContext, useSyncExternalStore } from 'react';
import { useDisplay } from '../../units/index.js';
import { useSheet } from '../sheet-context.js';
import { GridContext } from './fig-grid.js';
import { type FigureReading, intervalWords, numberWords, valueWords } from './figure-words.js';

/** Id of the margin's heading, where Enter on a figure leads. */
export const MARGIN_HEADING = 'sheet-margin-heading';

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
  const spoken = intervalWords(figure, unit, reading, ' and ');
  const open = (): void => focus.open({ id: figure.id, label });
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key !== 'Enter') return;
    event.preventDefault();
    open();
    document.getElementById(MARGIN_HEADING)?.focus();
  };
  return (
    <button
      type="button"
      className="sheet-fig"
      data-open={isOpen || undefined}
      aria-label={`${label}: ${valueWords(figure.value, figure.unit, unit, reading)}${spoken === null ? '' : `, 80 % between ${spoken}`}. Open its working.`}
      tabIndex={isInGrid ? -1 : 0}
      onFocus={open}
      onClick={open}
      onKeyDown={onKeyDown}
    >
      <span className="sheet-fig-value">{say(figure.value, figure.unit, unit, reading)}</span>
      {interval === null ? null : <span className="sheet-fig-interval">{interval}</span>}
    </button>
  );
}
