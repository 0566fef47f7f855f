import type { OfferRecord } from '@gapwright/records';
import { type ReactNode, useState } from 'react';
import { type HeldJob, useKeepingActions } from '../../keeping/index.js';
import { Button, SheetDialog } from '../../kit/index.js';
import { History } from '../history/history.js';
import { Offers } from '../history/offers.js';
import { Contents, type ContentsEntry } from './contents.js';

interface BarProps {
  readonly job: HeldJob;
  readonly contents: readonly ContentsEntry[];
  readonly isTrying: boolean;
  readonly onTry: () => void;
  readonly onOpenOffer: (offer: OfferRecord) => void;
  readonly stateLine: ReactNode;
}

/** Tells the page how high the bar is, so that what sticks below it and what is jumped to clears it. */
function tellHeight(bar: HTMLElement | null): (() => void) | undefined {
  const page = bar?.parentElement;
  if (!bar || !page) return undefined;
  const observer = new ResizeObserver(() => page.style.setProperty('--sheet-bar-height', `${bar.offsetHeight}px`));
  observer.observe(bar);
  return () => observer.disconnect();
}

/** Stays at the top of the window: where things are on the sheet, and what can be done with it as a whole. */
export function SheetBar({ job, contents, isTrying, onTry, onOpenOffer, stateLine }: BarProps) {
  const { undo, redo } = useKeepingActions();
  const [leaf, setLeaf] = useState<'history' | 'offers' | null>(null);
  const close = (): void => setLeaf(null);
  return (
    <div className="sheet-bar no-print" ref={tellHeight}>
      <Contents entries={contents} />
      <div className="sheet-bar-line">
        <div className="sheet-buttons">
          <span title={job.undoSays === null ? undefined : `Undo: ${job.undoSays}`}>
            <Button
              isDisabled={!job.canUndo}
              aria-label={job.undoSays === null ? 'Undo' : `Undo: ${job.undoSays}`}
              onPress={() => undo(job.jobId)}
            >
              Undo
            </Button>
          </span>
          <span title={job.redoSays === null ? undefined : `Redo: ${job.redoSays}`}>
            <Button
              isDisabled={!job.canRedo}
              aria-label={job.redoSays === null ? 'Redo' : `Redo: ${job.redoSays}`}
              onPress={() => redo(job.jobId)}
            >
              Redo
            </Button>
          </span>
          <Button isDisabled={isTrying} onPress={onTry}>
            Try a change
          </Button>
          <Button onPress={() => setLeaf('history')}>History</Button>
          {job.offers.length === 0 ? null : (
            <Button onPress={() => setLeaf('offers')}>Offers made ({job.offers.length})</Button>
          )}
        </div>
        {job.undoSays === null ? null : <span className="sheet-undo-says">Last: {job.undoSays}</span>}
        {stateLine}
      </div>
      <SheetDialog title="History of the job" size="wide" isOpen={leaf === 'history'} onClose={close}>
        <History jobId={job.jobId} headId={job.head.id} draft={job.draft} onClose={close} />
      </SheetDialog>
      <SheetDialog title="Offers made" size="wide" isOpen={leaf === 'offers'} onClose={close}>
        <Offers offers={job.offers} onOpen={onOpenOffer} />
      </SheetDialog>
    </div>
  );
}
