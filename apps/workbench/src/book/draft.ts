import { useCallback, useEffect, useMemo, useState } from 'react';
import { type BookChange, bookChanges } from './book-changes.js';
import { type JsonPath, setAt } from './json-path.js';

/** A book being edited: nothing is in use before it is kept as a new version. */
export interface BookDraft {
  readonly json: unknown;
  readonly changes: readonly BookChange[];
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  edit(path: JsonPath, value: unknown): void;
  /** The whole book at once, e.g. an imported one. */
  replace(json: unknown): void;
  undo(): void;
  redo(): void;
  /** Back to the version in use. */
  putAway(): void;
}

interface Steps {
  readonly past: readonly unknown[];
  readonly now: unknown;
  readonly future: readonly unknown[];
}

/** A draft outlives a closed tab: it is kept on this device under the version it was made from. */
const KEY = 'gapwright.book-draft';
const MOST_STEPS = 200;

function remembered(baseSha256: string): unknown {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) ?? 'null') as { base: string; json: unknown } | null;
    return kept?.base === baseSha256 ? kept.json : undefined;
  } catch {
    return undefined;
  }
}

function remember(baseSha256: string, json: unknown): void {
  try {
    if (json === undefined) localStorage.removeItem(KEY);
    else localStorage.setItem(KEY, JSON.stringify({ base: baseSha256, json }));
  } catch {
    // Without room on the device the draft lasts as long as the page; the versions in use are safe all the same.
  }
}

export function useBookDraft(base: unknown, baseSha256: string): BookDraft {
  const [steps, setSteps] = useState<Steps>(() => ({ past: [], now: remembered(baseSha256) ?? base, future: [] }));
  const [madeFrom, setMadeFrom] = useState(baseSha256);
  if (madeFrom !== baseSha256) {
    setMadeFrom(baseSha256);
    setSteps({ past: [], now: remembered(baseSha256) ?? base, future: [] });
  }
  const { past, now, future } = steps;
  useEffect(() => remember(baseSha256, now === base ? undefined : now), [baseSha256, now, base]);

  const replace = useCallback((json: unknown) => {
    setSteps((s) => ({ past: [...s.past, s.now].slice(-MOST_STEPS), now: json, future: [] }));
  }, []);
  const edit = useCallback((path: JsonPath, value: unknown) => {
    setSteps((s) => ({ past: [...s.past, s.now].slice(-MOST_STEPS), now: setAt(s.now, path, value), future: [] }));
  }, []);
  const undo = useCallback(() => {
    setSteps((s) =>
      s.past.length === 0 ? s : { past: s.past.slice(0, -1), now: s.past.at(-1), future: [s.now, ...s.future] },
    );
  }, []);
  const redo = useCallback(() => {
    setSteps((s) =>
      s.future.length === 0 ? s : { past: [...s.past, s.now], now: s.future[0], future: s.future.slice(1) },
    );
  }, []);
  const changes = useMemo(() => (now === base ? [] : bookChanges(base, now)), [base, now]);
  return {
    json: now,
    changes,
    canUndo: past.length > 0,
    canRedo: future.length > 0,
    edit,
    replace,
    undo,
    redo,
    putAway: () => replace(base),
  };
}
