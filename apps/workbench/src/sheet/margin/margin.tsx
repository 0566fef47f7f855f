import type { WorkingTable } from '@gapwright/base';
import type { OpenedFigure, SheetAnswer } from '@gapwright/job';
import { useRef, useSyncExternalStore } from 'react';
import { useOpenedFigure } from '../../engine/index.js';
import { Button } from '../../kit/index.js';
import { focusMargin, MARGIN_HEADING } from '../figure/fig.js';
import { useSheet } from '../sheet-context.js';
import { Working } from './working.js';

interface MarginProps {
  /** Column of the engine that the answer belongs to; null for an answer that was kept with its tables. */
  readonly column: string | null;
  readonly answer: SheetAnswer | null;
}

/** The working of the figure that has focus. */
export function Margin({ column, answer }: MarginProps) {
  const { focus } = useSheet();
  const trail = useSyncExternalStore(focus.subscribe, focus.current);
  const shown = trail.at(-1) ?? null;
  const asked = column === null ? null : (shown?.id ?? null);
  const opened = useOpenedFigure(column ?? '', asked, answer?.plan);
  const table = useTable(shown?.id ?? null, opened, answer);
  const row = shown === null ? undefined : table?.figures[shown.id];
  const standing = answer?.standing ?? '';
  return (
    <aside
      className="sheet-margin"
      aria-label="Working"
      data-open={shown !== null || undefined}
      onKeyDown={(event) => event.key === 'Escape' && backToFigure()}
    >
      <header className="sheet-margin-head">
        <h2 id={MARGIN_HEADING} tabIndex={-1} className="sheet-small-head">
          Working
        </h2>
        {shown === null ? null : (
          <Button look="plain" onPress={() => focus.close()}>
            Close
          </Button>
        )}
      </header>
      {shown === null ? (
        <div className="sheet-margin-empty">
          <p>
            Click a figure, or reach it with <kbd>Tab</kbd> and the arrow keys: how it was worked out stands here.{' '}
            <kbd>Enter</kbd> goes into the working, <kbd>Esc</kbd> back to the figure.
          </p>
          {standing === '' ? null : <p>{standing}</p>}
        </div>
      ) : (
        <>
          {trail.length > 1 ? (
            <nav aria-label="Opened from" className="sheet-trail">
              <ol>
                {trail.slice(0, -1).map((ref, index) => (
                  <li key={ref.id}>
                    <button
                      type="button"
                      className="kit-link"
                      onClick={() => {
                        focus.backTo(index);
                        focusMargin();
                      }}
                    >
                      {ref.label}
                    </button>
                  </li>
                ))}
              </ol>
            </nav>
          ) : null}
          {row === undefined || table === null ? (
            <p className="sheet-soft">Opening “{shown.label}” …</p>
          ) : (
            <Working refShown={shown} table={table} row={row} opened={opened} />
          )}
        </>
      )}
    </aside>
  );
}

/** A table that holds the figure: the answer's own, the opened one, or the last opened one, whose rows reach some levels down. */
function useTable(id: string | null, opened: OpenedFigure | null, answer: SheetAnswer | null): WorkingTable | null {
  const last = useRef<WorkingTable | null>(null);
  if (id === null) return null;
  for (const own of [answer?.plan, answer?.price]) {
    if (own != null && Object.hasOwn(own.figures, id)) return own;
  }
  if (opened?.id === id) last.current = opened.table;
  return last.current !== null && Object.hasOwn(last.current.figures, id) ? last.current : null;
}

/** Puts the focus back on the figure the working belongs to. */
function backToFigure(): void {
  document.querySelector<HTMLElement>('.sheet-fig[data-open]')?.focus();
}
