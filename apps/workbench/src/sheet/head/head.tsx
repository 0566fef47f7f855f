import type { DraftJob } from '@gapwright/job';
import { JOB_STAGES, type JobStage } from '@gapwright/records';
import { memo } from 'react';
import { Choice, Mark, TextEntry } from '../../kit/index.js';
import { changeSays, type DraftField, withField } from '../requirements/draft-fields.js';
import { useSheet } from '../sheet-context.js';
import { DayEntry } from './day-entry.js';

interface HeadProps {
  readonly draft: DraftJob;
  readonly stage: JobStage;
  readonly onStage: (stage: JobStage) => void;
  readonly standing: string;
}

/** What the job is, for whom, until when. */
export const Head = memo(function Head({ draft, stage, onStage, standing }: HeadProps) {
  const { edit, isReadOnly } = useSheet();
  const set = (field: DraftField, value: unknown): void =>
    edit(changeSays(field, value), (d) => withField(d, field, value));
  return (
    <header className="sheet-head">
      <h1 className="visually-hidden">{draft.title ?? 'Job without a title'}</h1>
      <div className="sheet-title">
        <TextEntry
          label="Title"
          hideLabel
          placeholder="Title of the job"
          value={draft.title ?? ''}
          maxLetters={200}
          isDisabled={isReadOnly}
          onCommit={(v) => set('title', v.trim())}
        />
        {draft.invented ? <Mark kind="info">Made-up demo data</Mark> : null}
      </div>
      <div className="sheet-head-fields">
        <TextEntry
          label="Customer"
          value={draft.customer ?? ''}
          maxLetters={200}
          isDisabled={isReadOnly}
          onCommit={(v) => set('customer', v.trim())}
        />
        <TextEntry
          label="Enquiry"
          value={draft.enquiry ?? ''}
          letters={12}
          maxLetters={60}
          isDisabled={isReadOnly}
          onCommit={(v) => set('enquiry', v.trim())}
        />
        <DayEntry
          label="Wanted by"
          value={draft.wantedDay}
          isDisabled={isReadOnly}
          onCommit={(v) => set('wantedDay', v)}
        />
        <Choice
          label="Stands at"
          value={stage}
          isDisabled={isReadOnly}
          options={JOB_STAGES.map((value) => ({ value, label: value }))}
          onChoose={(value) => onStage(value as JobStage)}
        />
      </div>
      {standing === '' ? null : <p className="sheet-standing">{standing}</p>}
      <details className="sheet-notes">
        <summary>
          Enquiry text and notes
          {draft.notes === undefined && draft.enquiryText === undefined ? ' (none yet)' : ''}
        </summary>
        <div className="sheet-notes-fields">
          <TextEntry
            label="Enquiry text"
            hint="Paste the enquiry; what it says is offered as an answer to the questions."
            lines={6}
            maxLetters={20_000}
            value={draft.enquiryText ?? ''}
            isDisabled={isReadOnly}
            onCommit={(v) => set('enquiryText', v)}
          />
          <TextEntry
            label="Notes"
            lines={6}
            maxLetters={20_000}
            value={draft.notes ?? ''}
            isDisabled={isReadOnly}
            onCommit={(v) => set('notes', v)}
          />
        </div>
      </details>
    </header>
  );
});
