import type { JobStage } from '@gapwright/records';
import { memo, useId } from 'react';
import { Link } from 'react-router';
import { Mark } from '../kit/mark.js';
import { jobPath } from '../shell/places.js';
import { useDisplay } from '../units/index.js';
import { dueWords } from './due.js';
import type { KnownAnswer } from './known-answer.js';
import { type SlipJob, titleOf } from './slip.js';
import { StageMenu } from './stage-menu.js';
import { type WaitWord, waitWords } from './wait-words.js';

/** Keeps a fact on one line; facts part between each other. */
const NO_BREAK = '\u00a0';

function Wait({ word }: { readonly word: WaitWord }) {
  if (word.tone === 'plain') return <>{word.text}</>;
  return <Mark kind={word.tone}>{word.text}</Mark>;
}

/** One job on the desk. */
export const SlipLine = memo(function SlipLine({
  job,
  known,
  today,
  onMove,
}: {
  readonly job: SlipJob;
  readonly known: KnownAnswer | undefined;
  readonly today: string;
  readonly onMove: (job: SlipJob, stage: JobStage) => void;
}) {
  const { length } = useDisplay();
  const id = useId();
  const { draft } = job;
  const title = titleOf(job);
  const facts = [
    draft.material,
    draft.heightMm === undefined ? undefined : `${length(draft.heightMm)} high`,
    draft.quantity === undefined ? undefined : draft.quantity === 1 ? '1 piece' : `${draft.quantity} pieces`,
  ].filter((fact) => fact !== undefined);
  const wanted = draft.wantedDay === undefined ? null : dueWords(draft.wantedDay, today);
  return (
    <article className="desk-slip" aria-labelledby={id}>
      <div className="desk-slip-name">
        <h3 id={id}>
          <Link to={jobPath(job.jobId)} className="desk-slip-link">
            {title}
          </Link>
          {draft.invented ? <span className="desk-invented">invented</span> : null}
        </h3>
        <p className="desk-soft">
          {draft.customer || 'no customer yet'}
          {draft.enquiry ? <span className="desk-number"> · {draft.enquiry}</span> : null}
        </p>
      </div>
      <p className="desk-slip-facts">
        {facts.length > 0 ? facts.map((fact) => fact.replaceAll(' ', NO_BREAK)).join(', ') : 'nothing answered yet'}
      </p>
      <ul className="desk-slip-waits">
        {job.conflict === null ? null : (
          <li>
            <Mark kind="needs">changed on two devices; open it to settle</Mark>
          </li>
        )}
        {waitWords(job, known, today).map((word) => (
          <li key={word.text}>
            <Wait word={word} />
          </li>
        ))}
        {job.saved === 'saved' ? null : (
          <li className="desk-soft">{job.saved === 'saving' ? 'being saved' : 'kept on this device only so far'}</li>
        )}
      </ul>
      <p className="desk-slip-due">
        {wanted === null ? (
          <span className="desk-soft">no wanted day</span>
        ) : wanted.isLate && job.stage !== 'closed' ? (
          <Mark kind="needs">{wanted.text}</Mark>
        ) : (
          <>wanted {wanted.text}</>
        )}
      </p>
      <StageMenu title={title} stage={job.stage} onMove={(stage) => onMove(job, stage)} />
    </article>
  );
});
