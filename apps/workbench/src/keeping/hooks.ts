import type { BookKind, KeptBurnRecord } from '@gapwright/records';
import { useRef, useSyncExternalStore } from 'react';
import type { Keeper, Snapshot } from './keeper.js';
import type { HeldBook, HeldJob, Keeping } from './keeping.js';
import type { Notice } from './notices.js';
import { useSession } from './provider.js';
import type { KeepingSession } from './session.js';
import { View } from './view.js';

/** Any part of what is kept; renders again only when the selected part becomes another object. */
export function useKept<T>(select: (snapshot: Snapshot, keeper: Keeper) => T): T {
  const { keeper } = useSession();
  return useSyncExternalStore(keeper.subscribe, () => select(keeper.snapshot(), keeper));
}

/** One job; renders again only when that job changes. Undefined while this device does not have it. */
export const useJob = (jobId: string): HeldJob | undefined => useKept((_, keeper) => keeper.job(jobId));
export const useJobs = (): readonly HeldJob[] => useKept((snapshot) => snapshot.jobs);
export const useServer = (): Snapshot['server'] => useKept((snapshot) => snapshot.server);
export const useBook = (kind: BookKind): HeldBook => useKept((snapshot) => snapshot.books[kind]);
export const useBurns = (): readonly KeptBurnRecord[] => useKept((snapshot) => snapshot.burns);
/** What the planner has to know about keeping now, with choices. */
export const useNotices = (): readonly Notice[] => useKept((_, keeper) => keeper.notices.all());

/** What can be done; the same object for the life of the page, so it never renders anything again. */
export const useKeepingActions = (): KeepingSession['actions'] => useSession().actions;

/**
 * Everything keeping shows and can do. Renders again only when a part that was read from it changes: a list that reads
 * `jobs` does, a button that calls `editJob` does not.
 */
export function useKeeping(): Keeping {
  const session = useSession();
  const view = useRef<View | null>(null);
  const current = useSyncExternalStore(session.keeper.subscribe, () => {
    if (view.current === null || !view.current.isCurrent()) view.current = new View(session, view.current);
    return view.current;
  });
  return current.keeping;
}
