import type { CounterOffer, DraftJob, PlanDocument } from '@gapwright/job';
import type { OfferRecord } from '@gapwright/records';
import { memo, useState } from 'react';
import { Checkbox } from 'react-aria-components';
import { useJob, useKeepingActions, useServer } from '../../keeping/index.js';
import { Button, download, Mark } from '../../kit/index.js';
import { percentText } from '../../units/index.js';
import { Section } from '../layout/section.js';
import { useSheet } from '../sheet-context.js';
import { type Paper, papersOf } from './paper-list.js';
import { PaperPreview } from './paper-preview.js';
import { usePaperRequest } from './use-paper-request.js';

interface PapersSectionProps {
  readonly jobId: string;
  readonly draft: DraftJob;
  readonly operations: PlanDocument['operations'];
  readonly programs: PlanDocument['programs'];
  readonly counterOffers: readonly CounterOffer[] | null;
  readonly isProven: boolean;
}

/** What leaves the planner's desk: look at it, take it as a file, print it; then make the offer. */
export const PapersSection = memo(function PapersSection(props: PapersSectionProps) {
  const { jobId, draft, operations, programs, counterOffers, isProven } = props;
  const { isReadOnly } = useSheet();
  const server = useServer();
  const { paperPdf } = useKeepingActions();
  const requestOf = usePaperRequest(jobId, draft);
  const [preview, setPreview] = useState<Paper | null>(null);
  const [asks, setAsks] = useState<readonly string[]>([]);
  const [busy, setBusy] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  if (isReadOnly) {
    return (
      <Section id="papers" title="Papers">
        <p className="sheet-soft">The papers of this offer are listed at the top, as they went out.</p>
      </Section>
    );
  }
  const worth = counterOffers ?? [];
  const papers = papersOf(operations, worth.length > 0);
  const canMake = isProven && server === 'connected' && requestOf !== null;

  const take = (paper: Paper, then: (pdf: Blob) => void): void => {
    if (requestOf === null) return;
    setBusy(paper.id);
    paperPdf(requestOf(paper, 'pdf', asks)).then(
      (pdf) => {
        setBusy(null);
        setFault(null);
        then(pdf);
      },
      (error: unknown) => {
        setBusy(null);
        setFault(error instanceof Error ? error.message : String(error));
      },
    );
  };

  return (
    <Section id="papers" title="Papers">
      {isProven ? null : (
        <p>
          <Mark kind="needs">Not before the proof passes</Mark> Papers and programs are made from a proven plan only.
        </p>
      )}
      {server === 'connected' ? null : (
        <p>
          <Mark kind="open">The server is away</Mark> Papers are set there; planning goes on, and this sheet itself can
          be printed.
        </p>
      )}
      <table className="sheet-table">
        <thead>
          <tr>
            <th scope="col">Paper</th>
            <th scope="col">For</th>
            <th scope="col" className="no-print">
              <span className="visually-hidden">What to do with it</span>
            </th>
          </tr>
        </thead>
        <tbody>
          {papers.map((paper) => (
            <tr key={paper.id}>
              <th scope="row">{paper.title}</th>
              <td>{paper.isFor}</td>
              <td className="sheet-buttons no-print">
                <Button
                  isDisabled={!canMake}
                  aria-label={`Look at it: ${paper.title}`}
                  onPress={() => setPreview(paper)}
                >
                  Look at it
                </Button>
                <Button
                  isDisabled={!canMake || busy !== null}
                  aria-label={`Download PDF: ${paper.title}`}
                  onPress={() => take(paper, (pdf) => download(pdf, paper.fileName))}
                >
                  {busy === paper.id ? 'Being set …' : 'Download PDF'}
                </Button>
              </td>
            </tr>
          ))}
          {Object.keys(programs).map((name) => (
            <tr key={name}>
              <th scope="row">Program {name}</th>
              <td>the machine, with its set-up sheet</td>
              <td className="sheet-buttons no-print">
                <Button
                  isDisabled={!isProven}
                  aria-label={`Download text: program ${name}`}
                  onPress={() => download(new Blob([programs[name]!], { type: 'text/plain' }), name)}
                >
                  Download text
                </Button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {worth.length === 0 ? null : (
        <fieldset className="sheet-asks no-print">
          <legend>The letter asks for</legend>
          {worth.map((o) => (
            <Checkbox
              key={o.id}
              className="sheet-ask"
              isSelected={asks.includes(o.id)}
              onChange={(isOn) => setAsks(isOn ? [...asks, o.id] : asks.filter((id) => id !== o.id))}
            >
              <span className="sheet-ask-box" aria-hidden="true">
                {asks.includes(o.id) ? '✓' : ''}
              </span>
              {o.says} ({percentText(o.savingShare)} less)
            </Checkbox>
          ))}
          <p className="sheet-soft">
            {asks.length === 0 ? 'None ticked: the letter names all of them.' : `${asks.length} ticked.`}
          </p>
        </fieldset>
      )}
      {fault === null ? null : (
        <p role="alert" className="sheet-fault">
          {fault}
        </p>
      )}
      <MakeOffer jobId={jobId} promisedDay={draft.promisedDay ?? null} canMake={canMake} />
      {preview === null || requestOf === null ? null : (
        <PaperPreview
          paper={preview}
          request={requestOf(preview, 'svg', asks)}
          onClose={() => setPreview(null)}
          onDownload={() => take(preview, (pdf) => download(pdf, preview.fileName))}
        />
      )}
    </Section>
  );
});

interface MakeOfferProps {
  readonly jobId: string;
  readonly promisedDay: string | null;
  readonly canMake: boolean;
}

/** Keeps the whole plan with its papers exactly as it goes to the customer. */
function MakeOffer({ jobId, promisedDay, canMake }: MakeOfferProps) {
  const actions = useKeepingActions();
  const job = useJob(jobId);
  const [state, setState] = useState<'idle' | 'busy' | OfferRecord | { readonly fault: string }>('idle');
  const make = (): void => {
    setState('busy');
    actions.makeOffer(jobId, promisedDay).then(
      (offer) => {
        setState(offer);
        if (job?.stage === 'to read' || job?.stage === 'to price')
          actions.setStage(jobId, 'with the customer', 'Offer made');
      },
      (error: unknown) => setState({ fault: error instanceof Error ? error.message : String(error) }),
    );
  };
  return (
    <div className="sheet-make-offer no-print">
      <Button look="main" isDisabled={!canMake || state === 'busy'} onPress={make}>
        {state === 'busy' ? 'The offer is being kept …' : 'Make the offer'}
      </Button>
      <p className="sheet-soft" aria-live="polite">
        {state === 'idle' || state === 'busy' ? (
          'Keeps plan, price and papers as they are now; they open the same again whatever changes later.'
        ) : 'fault' in state ? (
          <span className="sheet-fault">{state.fault}</span>
        ) : (
          <Mark kind="proven">{`Kept with ${state.papers.length} files; find it under “Offers”`}</Mark>
        )}
      </p>
    </div>
  );
}
