import type { DraftJob } from '@gapwright/job';
import { useCallback, useMemo, useRef, useState } from 'react';
import { changeBetween, type DraftChange, withChange } from '../requirements/draft-fields.js';

export interface Tried {
  /** The job with the tried change on top, whatever becomes of the job meanwhile; null while nothing is tried. */
  readonly draft: DraftJob | null;
  start(): void;
  tryOut(change: (draft: DraftJob) => DraftJob): void;
  putAway(): void;
}

/** A change on top of the job as it stands, not yet kept. */
export function useTried(draft: DraftJob | null): Tried {
  const [change, setChange] = useState<DraftChange | null>(null);
  const latest = useRef(draft);
  latest.current = draft;
  const start = useCallback(() => setChange((c) => c ?? {}), []);
  const putAway = useCallback(() => setChange(null), []);
  const tryOut = useCallback(
    (make: (draft: DraftJob) => DraftJob) =>
      setChange((c) => {
        const base = latest.current;
        if (base === null) return c;
        return changeBetween(base, make(withChange(base, c ?? {})));
      }),
    [],
  );
  const tried = useMemo(() => (change === null || draft === null ? null : withChange(draft, change)), [change, draft]);
  return useMemo(() => ({ draft: tried, start, tryOut, putAway }), [tried, start, tryOut, putAway]);
}
