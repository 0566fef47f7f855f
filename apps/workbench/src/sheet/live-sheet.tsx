import type { DraftJob } from '@gapwright/job';
import type { JobStage, OfferRecord } from '@gapwright/records';
import { useCallback, useDeferredValue, useEffect, useMemo, useRef, useState } from 'react';
import { rememberAnswer } from '../desk/known.js';
import { type HeldJob, useBook, useKeepingActions } from '../keeping/index.js';
import { StateLine } from './answer/state-line.js';
import { useColumn } from './answer/use-column.js';
import { useDrawing, useInputs } from './answer/use-inputs.js';
import { bookNames } from './book-names.js';
import { FigureFocus } from './figure/figure-focus.js';
import { ConflictTable } from './history/conflict.js';
import { SheetBar } from './layout/bar.js';
import { goToSection } from './layout/contents.js';
import { contentsOf, Leaf } from './layout/leaf.js';
import { Side } from './layout/side.js';
import { changesSay } from './requirements/draft-fields.js';
import { type SheetActions, SheetActionsProvider, type ShownPlace } from './sheet-context.js';
import { useSheetCommands } from './use-sheet-commands.js';
import { useTried } from './what-if/use-tried.js';
import { WhatIf } from './what-if/what-if.js';

interface LiveSheetProps {
  readonly job: HeldJob;
  readonly onOpenOffer: (offer: OfferRecord) => void;
}

/** The job as it stands, answered as it is changed. */
export function LiveSheet({ job, onOpenOffer }: LiveSheetProps) {
  const { jobId, draft } = job;
  const actions = useKeepingActions();
  const drawing = useDrawing(job.drawing);
  const column = `job:${jobId}`;
  const state = useColumn(column, useInputs(draft, drawing));
  const tried = useTried(draft);
  const triedState = useColumn(`what-if:${jobId}`, useInputs(tried.draft, drawing));
  const [shown, setShown] = useState<ShownPlace | null>(null);
  const [focus] = useState(() => new FigureFocus());
  const shopBook = useBook('shop-book');
  const names = useMemo(() => bookNames(shopBook.json), [shopBook]);
  const { answer } = state;
  // Hundreds of rows are laid out when there is time; boxes and key figures never wait for them.
  const laidOut = useDeferredValue(answer);

  const edit = useCallback(
    (says: string, change: (d: DraftJob) => DraftJob) => actions.editJob(jobId, says, change),
    [actions, jobId],
  );
  const tryOut = useCallback(
    (change: (d: DraftJob) => DraftJob) => {
      tried.tryOut(change);
    },
    [tried.tryOut],
  );
  const sheet = useMemo(
    (): SheetActions => ({ isReadOnly: false, focus, names, edit, tryOut, show: (place) => setShown({ ...place }) }),
    [focus, names, edit, tryOut],
  );

  const drawingSha256 = job.drawing?.sha256 ?? null;
  useEffect(() => {
    if (answer !== null && !state.isStale) rememberAnswer(jobId, answer, { draft, drawingSha256 });
  }, [jobId, answer, state.isStale, draft, drawingSha256]);

  const isTrying = tried.draft !== null;
  useEffect(() => {
    if (isTrying) goToSection('what-if');
  }, [isTrying]);
  useAnsweredFocus(answer?.questions.length ?? null);

  const contents = useMemo(() => contentsOf(answer, isTrying), [answer, isTrying]);
  useSheetCommands({ job, contents, isTrying, onTry: tried.start, onPutAway: tried.putAway });

  const onStage = useCallback(
    (stage: JobStage) => actions.setStage(jobId, stage, `Stands at: ${stage}`),
    [actions, jobId],
  );
  const onDrawing = useCallback(
    (file: File) => void takeDrawing(file, (bytes) => actions.setDrawing(jobId, file.name, bytes)),
    [actions, jobId],
  );
  const onKeep = useCallback(() => {
    if (tried.draft === null) return;
    const kept = tried.draft;
    edit(`Tried change kept: ${changesSay(draft, kept)}`.slice(0, MOST_LETTERS), () => kept);
    tried.putAway();
  }, [tried, draft, edit]);

  return (
    <SheetActionsProvider value={sheet}>
      <div className="sheet-page">
        <SheetBar
          job={job}
          contents={contents}
          isTrying={isTrying}
          onTry={tried.start}
          onOpenOffer={onOpenOffer}
          stateLine={<StateLine state={state} />}
        />
        <div className="sheet-body">
          <Leaf
            jobId={jobId}
            draft={draft}
            stage={job.stage}
            answer={laidOut}
            isStale={state.isStale}
            onStage={onStage}
            onDrawing={onDrawing}
          >
            {job.conflict === null ? null : (
              <ConflictTable conflict={job.conflict} onSettle={(keep) => actions.settle(jobId, keep)} />
            )}
            {drawing.fault === null ? null : (
              <p role="alert" className="sheet-fault">
                The drawing cannot be opened: {drawing.fault}
              </p>
            )}
            {tried.draft === null ? null : (
              <WhatIf
                draft={draft}
                answer={answer}
                tried={tried.draft}
                state={triedState}
                onKeep={onKeep}
                onPutAway={tried.putAway}
              />
            )}
          </Leaf>
          <Side
            column={column}
            answer={answer}
            toleranceMm={draft.toleranceMm ?? null}
            shown={shown}
            onPick={setShown}
          />
        </div>
      </div>
    </SheetActionsProvider>
  );
}

/** A revision says what changed in this many letters at most. */
const MOST_LETTERS = 300;

async function takeDrawing(file: File, keep: (bytes: Uint8Array) => Promise<void>): Promise<void> {
  await keep(new Uint8Array(await file.arrayBuffer()));
}

/** When the last question is answered, its box goes; whoever typed there goes on at the plan. */
function useAnsweredFocus(open: number | null): void {
  const before = useRef<number | null>(null);
  useEffect(() => {
    const wasOpen = before.current;
    before.current = open;
    if (open === 0 && wasOpen !== null && wasOpen > 0 && document.activeElement === document.body) {
      goToSection('requirements');
    }
  }, [open]);
}
