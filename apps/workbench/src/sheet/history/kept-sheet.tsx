import type { DraftJob, SheetAnswer } from '@gapwright/job';
import type { OfferRecord } from '@gapwright/records';
import { useEffect, useMemo, useState } from 'react';
import { type HeldJob, useBook, useKeepingActions } from '../../keeping/index.js';
import { Button } from '../../kit/index.js';
import { bookNames } from '../book-names.js';
import { FigureFocus } from '../figure/figure-focus.js';
import { Contents } from '../layout/contents.js';
import { contentsOf, Leaf } from '../layout/leaf.js';
import { Side } from '../layout/side.js';
import { type SheetActions, SheetActionsProvider, type ShownPlace } from '../sheet-context.js';
import { timeWords } from './conflict.js';
import { readKeptAnswer } from './kept-answer.js';

interface KeptSheetProps {
  readonly job: HeldJob;
  readonly offer: OfferRecord;
  readonly onClose: () => void;
}

/** An offer exactly as it was made, whatever became of the job since. Nothing in it can be changed. */
export function KeptSheet({ job, offer, onClose }: KeptSheetProps) {
  const { answer, draft, fault } = useKept(job, offer);
  const [shown, setShown] = useState<ShownPlace | null>(null);
  const [focus] = useState(() => new FigureFocus());
  const book = useBook('shop-book');
  const sheet = useMemo(
    (): SheetActions => ({
      isReadOnly: true,
      focus,
      names: bookNames(book.json),
      edit: nothing,
      tryOut: nothing,
      show: (place) => setShown({ ...place }),
    }),
    [focus, book],
  );
  const contents = useMemo(() => contentsOf(answer, false), [answer]);
  return (
    <SheetActionsProvider value={sheet}>
      <div className="sheet-page">
        <div className="sheet-bar no-print">
          <Contents entries={contents} />
          <div className="sheet-bar-line">
            <Button look="main" onPress={onClose}>
              Back to the job as it is
            </Button>
          </div>
        </div>
        <div className="sheet-body">
          {fault !== null ? (
            <p role="alert" className="sheet-fault">
              The offer cannot be opened: {fault}
            </p>
          ) : answer === null ? (
            <p role="status">Fetching the offer …</p>
          ) : (
            <Leaf
              jobId={job.jobId}
              draft={draft}
              stage={job.stage}
              answer={answer}
              isStale={false}
              onStage={nothing}
              onDrawing={nothing}
            >
              <p className="sheet-banner">
                As offered on {timeWords(offer.madeAt)} by {offer.madeBy}. This sheet is kept and cannot be changed.
              </p>
            </Leaf>
          )}
          <Side column={null} answer={answer} toleranceMm={draft.toleranceMm ?? null} shown={shown} onPick={setShown} />
        </div>
      </div>
    </SheetActionsProvider>
  );
}

const nothing = (): void => undefined;

interface Kept {
  readonly answer: SheetAnswer | null;
  readonly draft: DraftJob;
  readonly fault: string | null;
}

/** The kept answer, and the state of the job it was made from. */
function useKept(job: HeldJob, offer: OfferRecord): Kept {
  const { fileBytes, history } = useKeepingActions();
  const [kept, setKept] = useState<Kept>({ answer: null, draft: {}, fault: null });
  useEffect(() => {
    let isHere = true;
    const load = async (): Promise<Kept> => {
      const [bytes, past] = await Promise.all([fileBytes(offer.sheet.sha256), history(job.jobId)]);
      const revision = past.revisions.find((r) => r.id === offer.revisionId);
      return { answer: readKeptAnswer(bytes), draft: (revision?.content ?? {}) as DraftJob, fault: null };
    };
    load().then(
      (k) => isHere && setKept(k),
      (error: unknown) =>
        isHere && setKept({ answer: null, draft: {}, fault: error instanceof Error ? error.message : String(error) }),
    );
    return () => {
      isHere = false;
    };
  }, [fileBytes, history, job.jobId, offer]);
  return kept;
}
