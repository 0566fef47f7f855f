import { createContext, type KeyboardEvent, type ReactNode, useEffect, useRef } from 'react';

/** True inside a table whose figures share one stop of the Tab key. */
export const GridContext = createContext(false);

const STEPS: Readonly<Record<string, readonly [column: number, row: number]>> = {
  ArrowRight: [1, 0],
  ArrowLeft: [-1, 0],
  ArrowDown: [0, 1],
  ArrowUp: [0, -1],
};

const STOPS = '.sheet-fig, .sheet-grid-stop';

/**
 * A table that Tab enters and leaves in one step; arrow keys, Home and End go from figure to figure inside.
 * Other controls inside it keep their own Tab stops unless they have the class `sheet-grid-stop`.
 */
export function FigGrid({
  label,
  isTight = false,
  children,
}: {
  readonly label: string;
  /** For many columns: smaller text, narrower gaps. */
  readonly isTight?: boolean;
  readonly children: ReactNode;
}) {
  const table = useRef<HTMLTableElement>(null);

  // Figures come and go with the answer; one of them has to be the stop.
  useEffect(() => {
    const stops = [...(table.current?.querySelectorAll<HTMLElement>(STOPS) ?? [])];
    if (stops.length > 0 && !stops.some((s) => s.tabIndex === 0)) stops[0]!.tabIndex = 0;
  });

  const makeStop = (stop: HTMLElement): void => {
    for (const other of table.current?.querySelectorAll<HTMLElement>(STOPS) ?? []) other.tabIndex = -1;
    stop.tabIndex = 0;
  };

  const onKeyDown = (event: KeyboardEvent<HTMLTableElement>): void => {
    const from = event.target as HTMLElement;
    if (!from.matches(STOPS)) return;
    const to = neighbour(table.current!, from, event.key);
    if (to === null) return;
    event.preventDefault();
    to.focus();
  };

  return (
    <GridContext value={true}>
      <div className="sheet-table-frame">
        <table
          ref={table}
          aria-label={label}
          className={isTight ? 'sheet-table sheet-table-tight' : 'sheet-table'}
          onKeyDown={onKeyDown}
          onFocus={(event) => event.target.matches(STOPS) && makeStop(event.target as HTMLElement)}
        >
          {children}
        </table>
      </div>
    </GridContext>
  );
}

/** The figure an arrow key leads to; the nearest one in the next row that has any. */
function neighbour(table: HTMLTableElement, from: HTMLElement, key: string): HTMLElement | null {
  const row = from.closest('tr');
  if (row === null) return null;
  const inRow = [...row.querySelectorAll<HTMLElement>(STOPS)];
  const at = inRow.indexOf(from);
  if (key === 'Home') return inRow[0] ?? null;
  if (key === 'End') return inRow.at(-1) ?? null;
  const step = STEPS[key];
  if (step === undefined) return null;
  if (step[1] === 0) return inRow[at + step[0]] ?? null;
  const rows = [...table.rows].filter((r) => r.querySelector(STOPS) !== null);
  const next = rows[rows.indexOf(row) + step[1]];
  if (next === undefined) return null;
  const column = from.closest('td, th') as HTMLTableCellElement;
  const under = [...next.querySelectorAll<HTMLElement>(STOPS)];
  const distance = (s: HTMLElement): number =>
    Math.abs((s.closest('td, th') as HTMLTableCellElement).cellIndex - column.cellIndex);
  return under.reduce((best, s) => (distance(s) < distance(best) ? s : best), under[0]!);
}
