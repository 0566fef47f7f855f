import type { DraftJob } from '@gapwright/job';
import { createContext, useContext } from 'react';
import type { BookNames } from './book-names.js';
import type { FigureFocus } from './figure/figure-focus.js';

/** A place on the drawing, as far as it is known. */
export interface ShownPlace {
  readonly xMm?: number;
  readonly yMm?: number;
  readonly feature?: string;
  readonly mark?: string;
  readonly problemCode?: string;
}

/** What every part of the sheet may do. Stable, so that reading it does not draw a part anew. */
export interface SheetActions {
  /** True for offers and old revisions: nothing can be changed. */
  readonly isReadOnly: boolean;
  readonly focus: FigureFocus;
  readonly names: BookNames;
  edit(says: string, change: (draft: DraftJob) => DraftJob): void;
  /** Puts a change into the what-if column, opening it. */
  tryOut(change: (draft: DraftJob) => DraftJob): void;
  show(place: ShownPlace): void;
}

const Context = createContext<SheetActions | null>(null);

export const SheetActionsProvider = Context;

export function useSheet(): SheetActions {
  const actions = useContext(Context);
  if (actions === null) throw new Error('useSheet outside a job sheet');
  return actions;
}
