import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react';
import { keyCaps } from './keys.js';
import { isMac } from './system.js';

export interface FinderRow {
  readonly id: string;
  /** What it is: a job, a command, a figure. */
  readonly kind: string;
  readonly label: string;
  readonly says: string | null;
  readonly words: string;
  readonly keys: string | null;
  readonly isPossible: boolean;
  readonly run: () => void;
}

/** The box and what was found; arrows choose, Enter goes. Focus never leaves the box. */
export function FinderList({
  typed,
  onType,
  rows,
  onChoose,
}: {
  readonly typed: string;
  readonly onType: (text: string) => void;
  readonly rows: readonly FinderRow[];
  readonly onChoose: (row: FinderRow) => void;
}) {
  const id = useId();
  const [at, setAt] = useState(0);
  const list = useRef<HTMLDivElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new word starts at the best fit again.
  useEffect(() => setAt(0), [typed]);
  useEffect(() => {
    list.current?.children[at]?.scrollIntoView({ block: 'nearest' });
  }, [at]);

  const onKeyDown = (event: KeyboardEvent): void => {
    const steps: Readonly<Record<string, number>> = { ArrowDown: 1, ArrowUp: -1, PageDown: 8, PageUp: -8 };
    const step = steps[event.key];
    if (step !== undefined) {
      event.preventDefault();
      setAt((now) => Math.max(0, Math.min(rows.length - 1, now + step)));
    } else if (event.key === 'Enter') {
      event.preventDefault();
      const row = rows[at];
      if (row?.isPossible) onChoose(row);
    }
  };

  return (
    <div className="shell-finder">
      <input
        // biome-ignore lint/a11y/noAutofocus: the finder is opened to type in.
        autoFocus
        className="kit-input shell-finder-box"
        role="combobox"
        aria-label="Find a job, a place, a figure or a command"
        aria-expanded="true"
        aria-controls={`${id}-list`}
        aria-activedescendant={rows.length > 0 ? `${id}-${at}` : undefined}
        aria-autocomplete="list"
        placeholder="A customer, a number, a figure, what to do …"
        autoComplete="off"
        spellCheck={false}
        value={typed}
        onChange={(event) => onType(event.target.value)}
        onKeyDown={onKeyDown}
      />
      <p className="visually-hidden" role="status">
        {rows.length === 0 ? 'Nothing found' : `${rows.length} found`}
      </p>
      {rows.length === 0 ? <p className="shell-finder-none">Nothing fits “{typed}”. Try fewer letters.</p> : null}
      <div className="shell-finder-list" role="listbox" id={`${id}-list`} aria-label="Found" ref={list}>
        {rows.map((row, index) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: keys are taken by the box, which keeps the focus.
          // biome-ignore lint/a11y/useFocusableInteractive: as above.
          <div
            key={row.id}
            id={`${id}-${index}`}
            role="option"
            aria-selected={index === at}
            aria-disabled={!row.isPossible}
            className="shell-finder-row"
            onPointerMove={() => setAt(index)}
            onClick={() => row.isPossible && onChoose(row)}
          >
            <span className="shell-finder-kind">{row.kind}</span>
            <span className="shell-finder-label">
              {row.label}
              {row.says === null ? null : (
                <span className="shell-finder-says"> {row.says.replaceAll('-', '\u2011')}</span>
              )}
              {row.isPossible ? null : <span className="shell-finder-says"> not possible now</span>}
            </span>
            {row.keys === null ? null : (
              <span className="shell-caps">
                {keyCaps(row.keys, isMac).map((cap, i) => (
                  // biome-ignore lint/suspicious/noArrayIndexKey: a sequence may hold the same key twice.
                  <kbd key={i}>{cap}</kbd>
                ))}
              </span>
            )}
          </div>
        ))}
      </div>
    </div>
  );
}
